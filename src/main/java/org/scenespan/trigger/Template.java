package org.scenespan.trigger;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.Map;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.scenespan.light.Exposure;

/**
 * A command's text with parameters in braces, and the parameters of a shot. In a message of bytes a
 * parameter says how many bytes it takes: {@code {milliseconds:4}}.
 */
final class Template {
  /** Every parameter that a shot has. */
  static final Set<String> SHOT_PARAMETERS =
      Set.of("seconds", "milliseconds", "microseconds", "iso", "aperture", "shot");

  /** Those that are whole numbers, fit for a message of bytes. */
  static final Set<String> WHOLE_PARAMETERS = Set.of("milliseconds", "microseconds", "iso", "shot");

  private static final Pattern PARAMETER = Pattern.compile("\\{([^{}:]*)(?::([1-8]))?}");

  /** Digits of an exact time: more than any device resolves, fewer than binary noise shows. */
  private static final MathContext NINE_DIGITS = new MathContext(9);

  private Template() {}

  /** The parameters that a template names, known or not. */
  static Set<String> parametersOf(String template) {
    return widthsOf(template).keySet();
  }

  /** The parameters that a template names, and the bytes that each takes; 0 where it says none. */
  static Map<String, Integer> widthsOf(String template) {
    Map<String, Integer> widths = new LinkedHashMap<>();
    Matcher matcher = PARAMETER.matcher(template);
    while (matcher.find()) {
      widths.put(matcher.group(1), widthOf(matcher.group(2)));
    }
    return widths;
  }

  private static int widthOf(String digit) {
    return digit == null ? 0 : Integer.parseInt(digit);
  }

  /** What is left of a template without its parameters. */
  static String withoutParameters(String template) {
    return PARAMETER.matcher(template).replaceAll("");
  }

  /** Puts the values in; every parameter of the template must have one. */
  static String fill(String template, Map<String, String> values, Framing framing) {
    return PARAMETER
        .matcher(template)
        .replaceAll(
            found -> {
              String value = values.get(found.group(1));
              if (value == null) {
                throw new IllegalArgumentException(
                    "template \"" + template + "\" needs a value for " + found.group());
              }
              int width = widthOf(found.group(2));
              return Matcher.quoteReplacement(
                  width == 0
                      ? value
                      : framing.bytesOf(Math.round(Double.parseDouble(value)), width));
            });
  }

  /** What a release has that sets no exposure. */
  static Map<String, String> valuesOf(int shot) {
    return Map.of("shot", Integer.toString(shot));
  }

  /** Times exact, ISO and aperture as engraved, all plain decimal. */
  static Map<String, String> valuesOf(int shot, Exposure exposure) {
    double seconds = exposure.shutter().seconds();
    Map<String, String> values = new LinkedHashMap<>();
    values.put("shot", Integer.toString(shot));
    values.put("seconds", plain(seconds));
    values.put("milliseconds", Long.toString(Math.max(1, Math.round(seconds * 1e3))));
    values.put("microseconds", Long.toString(Math.max(1, Math.round(seconds * 1e6))));
    values.put("iso", plain(exposure.iso().nominalSpeed()));
    values.put("aperture", plain(exposure.aperture().nominalNumber()));
    return values;
  }

  /** All parameters of some templates. */
  static Set<String> parametersOf(Iterable<String> templates) {
    Set<String> names = new LinkedHashSet<>();
    templates.forEach(template -> names.addAll(parametersOf(template)));
    return names;
  }

  private static String plain(double value) {
    return new BigDecimal(value).round(NINE_DIGITS).stripTrailingZeros().toPlainString();
  }
}

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

/** A command's text with parameters in braces, and the parameters of a shot. */
final class Template {
  /** Every parameter that a shot has. */
  static final Set<String> SHOT_PARAMETERS =
      Set.of("seconds", "milliseconds", "microseconds", "iso", "aperture", "shot");

  private static final Pattern PARAMETER = Pattern.compile("\\{([^{}]*)}");

  /** Digits of an exact time: more than any device resolves, fewer than binary noise shows. */
  private static final MathContext NINE_DIGITS = new MathContext(9);

  private Template() {}

  /** The parameters that a template names, known or not. */
  static Set<String> parametersOf(String template) {
    Set<String> names = new LinkedHashSet<>();
    Matcher matcher = PARAMETER.matcher(template);
    while (matcher.find()) {
      names.add(matcher.group(1));
    }
    return names;
  }

  /** Puts the values in; every parameter of the template must have one. */
  static String fill(String template, Map<String, String> values) {
    return PARAMETER
        .matcher(template)
        .replaceAll(
            found -> {
              String value = values.get(found.group(1));
              if (value == null) {
                throw new IllegalArgumentException(
                    "template \"" + template + "\" needs a value for " + found.group());
              }
              return Matcher.quoteReplacement(value);
            });
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

  private static String plain(double value) {
    return new BigDecimal(value).round(NINE_DIGITS).stripTrailingZeros().toPlainString();
  }
}

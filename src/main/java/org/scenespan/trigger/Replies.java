package org.scenespan.trigger;

import java.time.Duration;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/** What a line from the device means to the step that awaits an answer. */
final class Replies {
  /** How near a number that was given back must be to the one sent: a thousandth of it. */
  private static final double SAME = 1e-3;

  /** How much of a strange line is quoted, in characters. */
  private static final int MAX_QUOTE_LENGTH = 60;

  private static final String OPENED = "openedMillis";
  private static final String CLOSED = "closedMillis";
  private static final String EXPOSED = "exposedMillis";

  /** Groups that carry a number, which is handed on in decimal digits whatever it came in. */
  private static final Set<String> TIMES = Set.of(OPENED, CLOSED, EXPOSED);

  /** The usual counter of a small device has 32 bits. */
  private static final double COUNTER_WRAP_MILLIS = 4_294_967_296.0;

  private final Profile profile;
  private final Framing framing;

  Replies(Profile profile, Framing framing) {
    this.profile = profile;
    this.framing = framing;
  }

  /** What the device says if it says no: by the profile's refusal, or with a queued error. */
  Optional<String> refusal(Step.Say step, String text) {
    Optional<Map<String, String>> no = profile.refusal().flatMap(pattern -> pattern.match(text));
    if (no.isPresent()) {
      return Optional.of(clipped(no.get().getOrDefault("reason", quoted(text))));
    }
    if (!step.mayTellErrors()) {
      return Optional.empty();
    }
    return profile
        .errorQuery()
        .flatMap(query -> query.reply().match(text))
        .filter(error -> !isNoError(error.getOrDefault("code", "")))
        .map(
            error ->
                clipped((error.get("code") + " " + error.getOrDefault("message", "")).strip()));
  }

  /**
   * Whether an error tells of the device's own trouble rather than of the command, so that the
   * release may have been obeyed all the same: SCPI-1999 volume 2, 21.8, has the command's in -100
   * to -249; -250 is the mass storage, -300 and below the device [memory].
   */
  boolean isOfTheDevice(String text) {
    return profile
        .errorQuery()
        .flatMap(query -> query.reply().match(text))
        .map(error -> error.getOrDefault("code", ""))
        .filter(code -> code.matches("-[0-9]{3}") && Integer.parseInt(code) <= -250)
        .isPresent();
  }

  private static boolean isNoError(String code) {
    return code.matches("[+-]?0+|(00 ?)+");
  }

  /** The groups of an answer to a step; empty if the line is none. */
  Optional<Map<String, String>> answer(Step.Say step, String text, Map<String, String> sent) {
    return step.reply()
        .orElseThrow()
        .match(text)
        .filter(groups -> isOurs(groups, sent))
        .map(this::inDecimals);
  }

  /** A line that the device says without being asked. */
  Optional<Heard> notice(String text) {
    for (Profile.Notice notice : profile.notices()) {
      Optional<Map<String, String>> groups = notice.pattern().match(text);
      if (groups.isPresent()) {
        return Optional.of(
            new Heard(notice.kind(), clipped(groups.get().getOrDefault("text", text))));
      }
    }
    return Optional.empty();
  }

  /** A notice that came. */
  record Heard(String kind, String text) {}

  /** Whether every value given back that was sent with the order is the one that was sent. */
  private boolean isOurs(Map<String, String> groups, Map<String, String> sent) {
    for (Map.Entry<String, String> group : groups.entrySet()) {
      String expected = sent.get(group.getKey());
      if (expected != null && !isSame(group.getKey(), expected, group.getValue())) {
        return false;
      }
    }
    return true;
  }

  private boolean isSame(String name, String expected, String given) {
    try {
      double wanted = Double.parseDouble(expected);
      Optional<Double> modulus = framing.modulus(given);
      if (modulus.isPresent()) {
        return framing.number(given) == Math.rint(wanted) % modulus.get();
      }
      double tolerance = name.equals("shot") ? 0 : SAME * wanted;
      return Math.abs(framing.number(given) - wanted) <= tolerance;
    } catch (NumberFormatException noNumber) {
      return false;
    }
  }

  private Map<String, String> inDecimals(Map<String, String> groups) {
    if (profile.line().form() == Profile.Form.TEXT) {
      return groups;
    }
    Map<String, String> decimals = new LinkedHashMap<>(groups);
    for (Map.Entry<String, String> group : groups.entrySet()) {
      if (TIMES.contains(group.getKey()) || Template.SHOT_PARAMETERS.contains(group.getKey())) {
        decimals.put(group.getKey(), Long.toString((long) framing.number(group.getValue())));
      }
    }
    return decimals;
  }

  /** How long the device says that it exposed, from its answers' groups. */
  static Optional<Duration> exposed(Map<String, String> groups) {
    try {
      double millis;
      if (groups.containsKey(EXPOSED)) {
        millis = Double.parseDouble(groups.get(EXPOSED));
      } else if (groups.containsKey(OPENED) && groups.containsKey(CLOSED)) {
        millis = Double.parseDouble(groups.get(CLOSED)) - Double.parseDouble(groups.get(OPENED));
        millis = millis < 0 ? millis + COUNTER_WRAP_MILLIS : millis;
      } else {
        return Optional.empty();
      }
      boolean possible = millis > 0 && millis <= Duration.ofDays(1).toMillis();
      return possible ? Optional.of(Duration.ofNanos(Math.round(millis * 1e6))) : Optional.empty();
    } catch (NumberFormatException noNumber) {
      return Optional.empty();
    }
  }

  static String quoted(String text) {
    return "\"" + clipped(text) + "\"";
  }

  /** Fit for one line of a message: no control characters, not too long. */
  private static String clipped(String text) {
    String printable = text.replaceAll("[^ -~]", "?");
    return printable.length() <= MAX_QUOTE_LENGTH
        ? printable
        : printable.substring(0, MAX_QUOTE_LENGTH) + "…";
  }
}

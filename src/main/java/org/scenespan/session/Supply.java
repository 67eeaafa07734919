package org.scenespan.session;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Whether disk and battery last as long as the lapse. */
final class Supply {
  /** A little more than enough again, before it is said that it is. */
  private static final double AMPLE = 1.15;

  /** A battery's course is not told from less. */
  private static final Duration LEAST_TIME = Duration.ofMinutes(15);

  /** Of its charge, or of its first voltage. */
  private static final double LEAST_FALL = 0.02;

  /**
   * A battery at this part of the voltage that it first showed is empty: cells of most kinds end at
   * 0.7 to 0.8 of what they show when full [practice].
   */
  private static final double EMPTY_VOLTAGE = 0.8;

  private static final Pattern NUMBER =
      Pattern.compile("(?<number>\\d{1,6}(\\.\\d{1,6})?)\\s*(?<unit>%|[A-Za-z]*)");

  private Supply() {}

  static boolean isShort(Input.SpaceSeen space, int framesLeft) {
    return (double) space.frameBytes() * framesLeft > space.freeBytes();
  }

  static boolean isAmple(Input.SpaceSeen space, int framesLeft) {
    return AMPLE * space.frameBytes() * framesLeft <= space.freeBytes();
  }

  static String words(Input.SpaceSeen space, int framesLeft) {
    return String.format(
        Locale.ROOT,
        "The hot folder's disk will not last: %.1f MB a frame leave room for %d of the %d frames that"
            + " are still to come.",
        space.frameBytes() / 1e6,
        space.freeBytes() / Math.max(1, space.frameBytes()),
        framesLeft);
  }

  /** What a device's word of its battery says, if it is a number. */
  static Optional<Vigil.Charge> charge(Event.TriggerNoticed noticed, Instant at) {
    Matcher matcher = NUMBER.matcher(noticed.text());
    if (!noticed.kind().contains("battery") || !matcher.find()) {
      return Optional.empty();
    }
    return Optional.of(
        new Vigil.Charge(
            at, Double.parseDouble(matcher.group("number")), matcher.group("unit").equals("%")));
  }

  /** When the battery is empty if it goes on like that; nothing where that is not to be told. */
  static Optional<Instant> empty(List<Vigil.Charge> charges) {
    if (charges.isEmpty()) {
      return Optional.empty();
    }
    Vigil.Charge first = charges.get(0);
    Vigil.Charge last = charges.get(charges.size() - 1);
    double whole = first.percent() ? 100 : first.value();
    double end = first.percent() ? 0 : EMPTY_VOLTAGE * first.value();
    double slope = slope(charges);
    boolean enough =
        Duration.between(first.at(), last.at()).compareTo(LEAST_TIME) >= 0
            && first.value() - last.value() >= LEAST_FALL * whole;
    if (!enough || !(slope < 0)) {
      return Optional.empty();
    }
    double seconds = Math.max(0, (end - last.value()) / slope);
    // A battery that lasts for years is one that lasts.
    return seconds > 1e8 ? Optional.empty() : Optional.of(last.at().plusSeconds((long) seconds));
  }

  /** A second, by least squares. */
  private static double slope(List<Vigil.Charge> charges) {
    Instant zero = charges.get(0).at();
    double n = charges.size();
    double sumT = 0;
    double sumV = 0;
    double sumTt = 0;
    double sumTv = 0;
    for (Vigil.Charge charge : charges) {
      double t = Duration.between(zero, charge.at()).toMillis() / 1000.0;
      sumT += t;
      sumV += charge.value();
      sumTt += t * t;
      sumTv += t * charge.value();
    }
    double below = n * sumTt - sumT * sumT;
    return below > 0 ? (n * sumTv - sumT * sumV) / below : 0;
  }

  static String words(Duration lasts, Duration needed) {
    return "The trigger's battery will be empty in about "
        + told(lasts)
        + "; the lapse goes on for "
        + told(needed)
        + ".";
  }

  private static String told(Duration time) {
    long minutes = Math.max(0, time.toMinutes());
    return minutes >= 60
        ? String.format(Locale.ROOT, "%d h %02d min", minutes / 60, minutes % 60)
        : minutes + " min";
  }
}

package org.scenespan.plan;

import java.util.Locale;
import org.scenespan.light.Latitude;

/** What is not covered, and what would help, in words. */
final class OpenWords {
  private OpenWords() {}

  static String of(SpanEstimate span) {
    StringBuilder words = new StringBuilder();
    if (span.openAbove().value() > 0) {
      words.append(
          String.format(Locale.ROOT, "open above by about %.1f stops", span.openAbove().value()));
    }
    if (span.openBelow().value() > 0) {
      words.append(words.isEmpty() ? "" : ", ");
      words.append(
          String.format(
              Locale.ROOT,
              "open below by %s%.1f stops",
              span.lowIsGuess() ? "at least " : "",
              span.openBelow().value()));
    }
    if (span.gap().value() > 0) {
      words.append(words.isEmpty() ? "" : ", ");
      words.append(
          String.format(Locale.ROOT, "a hole of %.1f stops between frames", span.gap().value()));
    }
    words.setCharAt(0, Character.toUpperCase(words.charAt(0)));
    return words.append('.').toString();
  }

  static Decision atLimit(SpanEstimate span, Latitude latitude) {
    StringBuilder why = new StringBuilder(of(span));
    if (span.openAbove().value() > 0) {
      why.append(
          " The darkest that can be set is "
              + latitude.darkest()
              + "; a neutral density filter, a smaller aperture or a shorter shutter would help,"
              + " or a higher clip tolerance if what clips may be let go.");
    }
    if (span.openBelow().value() > 0) {
      why.append(
          " The brightest that can be set is "
              + latitude.brightest()
              + "; a longer shutter, a higher ISO or a wider aperture would help.");
    }
    return new Decision.Finish(Decision.Ending.LIMIT, why.toString());
  }
}

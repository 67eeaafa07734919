package org.scenespan.plan.settings;

import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import org.scenespan.light.Exposure;
import org.scenespan.light.Stops;

/**
 * One set of settings with what it gives up.
 *
 * @param exposure on the camera's ladder
 * @param brighter by how much the picture comes out brighter (+) or darker (−) than metered,
 *     because the ladder has steps or an end
 * @param givenUp what is not held, the most first
 * @param wishes what it was judged by
 */
public record Settings(
    Exposure exposure, Stops brighter, List<GivenUp> givenUp, List<Wish> wishes) {
  /** A twentieth of a stop is seen by nobody, and less than engraved names are off by. */
  private static final double HELD_STOPS = 0.05;

  /** Half a third: what the steps of the ladder leave. */
  static final double HALF_STEP_STOPS = 1.0 / 6 + 1e-6;

  public Settings {
    givenUp = List.copyOf(givenUp);
    wishes = List.copyOf(wishes);
  }

  /**
   * @param what the wish
   * @param stops by how much it is missed, above 0
   */
  public record GivenUp(String what, Stops stops) {}

  static boolean holds(Stops shortfall) {
    return shortfall.value() <= HELD_STOPS;
  }

  /** All wishes hold and the exposure is right. */
  public boolean meetsAll() {
    return givenUp.isEmpty();
  }

  /** The stops given up in all. */
  public Stops total() {
    return new Stops(givenUp.stream().mapToDouble(it -> it.stops().value()).sum());
  }

  static Settings of(Exposure exposure, Stops brighter, List<Wish> wishes) {
    List<GivenUp> missed =
        wishes.stream()
            .filter(wish -> !holds(wish.shortfall(exposure)))
            .map(wish -> new GivenUp(wish.name(), wish.shortfall(exposure)))
            .collect(Collectors.toList());
    if (Math.abs(brighter.value()) > HALF_STEP_STOPS) {
      missed.add(new GivenUp("the right exposure", brighter.abs()));
    }
    missed.sort((one, other) -> other.stops().compareTo(one.stops()));
    return new Settings(exposure, brighter, missed, wishes);
  }

  /** All of it as a sentence. */
  public String words() {
    StringBuilder words =
        new StringBuilder(
            exposure.aperture() + " at " + exposure.shutter() + ", " + exposure.iso());
    String separator = ": ";
    for (Wish wish : wishes) {
      words.append(separator).append(wish.outcome(exposure));
      separator = "; ";
    }
    if (Math.abs(brighter.value()) > HALF_STEP_STOPS) {
      words
          .append(separator)
          .append(
              String.format(
                  Locale.ROOT,
                  "%.1f stops too %s",
                  Math.abs(brighter.value()),
                  brighter.value() > 0 ? "bright" : "dark"));
      separator = "; ";
    }
    if (!givenUp.isEmpty()) {
      words
          .append(separator)
          .append("gives up ")
          .append(
              givenUp.stream()
                  .map(
                      it ->
                          String.format(
                              Locale.ROOT, "%.1f stops of %s", it.stops().value(), it.what()))
                  .collect(Collectors.joining(" and ")));
    }
    return words.append('.').toString();
  }
}

package org.scenespan.light;

import java.util.Locale;

/**
 * A neutral density filter.
 *
 * @param stops the light it takes, 0 to 30
 */
public record NeutralDensity(double stops) {
  public static final NeutralDensity NONE = new NeutralDensity(0);

  /** The optical density of one stop, log10 2. */
  private static final double DENSITY_OF_A_STOP = Math.log10(2);

  public NeutralDensity {
    if (!(stops >= 0 && stops <= 30)) {
      throw new IllegalArgumentException("neutral density (" + stops + " stops) must be 0 to 30");
    }
  }

  public static NeutralDensity ofDensity(double density) {
    return new NeutralDensity(density / DENSITY_OF_A_STOP);
  }

  /**
   * Parses the optical density {@code OD3.0}, the factor {@code ND1000}, or {@code 10stops};
   * several on one another with a plus, {@code ND8+OD0.9}.
   */
  public static NeutralDensity parse(String text) {
    double stops = 0;
    for (String part : text.split("\\+", -1)) {
      stops += one(part.strip().toLowerCase(Locale.ROOT), text);
    }
    return new NeutralDensity(stops);
  }

  private static double one(String part, String whole) {
    String expected = "a filter such as OD3.0, ND1000 or 10stops";
    if (part.startsWith("od")) {
      return Numbers.parse(part.substring(2).strip(), expected, whole) / DENSITY_OF_A_STOP;
    }
    if (part.startsWith("nd")) {
      double factor = Numbers.parse(part.substring(2).strip(), expected, whole);
      if (!(factor >= 1)) {
        throw new IllegalArgumentException("\"" + whole + "\" is not " + expected);
      }
      return Stops.ofRatio(factor).value();
    }
    if (part.endsWith("stops") || part.endsWith("stop")) {
      return Numbers.parse(part.replaceFirst("\\s*stops?$", ""), expected, whole);
    }
    throw new IllegalArgumentException("\"" + whole + "\" is not " + expected);
  }

  public double density() {
    return stops * DENSITY_OF_A_STOP;
  }

  /** By how much the light is divided, the number after ND. */
  public double factor() {
    return Math.pow(2, stops);
  }

  /** What the meter shows through the filter. */
  public Ev behind(Ev scene) {
    return scene.minus(new Stops(stops));
  }

  /** The time that gives the same exposure with the filter on, in seconds. */
  public double seconds(Shutter without) {
    return without.seconds() * factor();
  }

  /** {@code 10.0 stops (OD 3.0, ND1000)}. */
  @Override
  public String toString() {
    return String.format(Locale.ROOT, "%.1f stops (OD %.2f, ND%.0f)", stops, density(), factor());
  }
}

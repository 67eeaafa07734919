package org.scenespan.light;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/**
 * A sensitivity (ISO 12232). Computes with the exact step (126), shows the engraved one (125).
 *
 * @param speed the exact arithmetic speed, 1 to 10 000 000
 */
public record Iso(double speed) implements Comparable<Iso> {
  private static final ThirdStops SERIES =
      new ThirdStops(
          100,
          3,
          -6,
          List.of(
              25.0, 32.0, 40.0, 50.0, 64.0, 80.0, 100.0, 125.0, 160.0, 200.0, 250.0, 320.0, 400.0,
              500.0, 640.0, 800.0, 1000.0, 1250.0, 1600.0, 2000.0, 2500.0, 3200.0, 4000.0, 5000.0,
              6400.0, 8000.0, 10000.0, 12800.0, 16000.0, 20000.0, 25600.0, 32000.0, 40000.0,
              51200.0, 64000.0, 80000.0, 102400.0, 128000.0, 160000.0, 204800.0, 256000.0, 320000.0,
              409600.0));

  /** The ISO at which every EV of the project is stated. */
  public static final Iso EV_BASE = new Iso(100);

  public Iso {
    if (!(speed >= 1 && speed <= 10_000_000)) {
      throw new IllegalArgumentException("ISO (" + speed + ") must be 1 to 10000000");
    }
  }

  /** The step {@code k} of the third-stop series, exactly 100·2^(k/3). */
  public static Iso ofThird(int k) {
    return new Iso(SERIES.exact(k));
  }

  /** The speed that a written number means: 125 is the step of exactly 125.99. */
  public static Iso ofNominal(double speed) {
    return new Iso(SERIES.meaning(new Iso(speed).speed));
  }

  /** Every speed of the third-stop series from the lowest to the highest, both included. */
  public static List<Iso> thirds(Iso lowest, Iso highest) {
    List<Iso> steps = new ArrayList<>();
    for (int k = SERIES.firstStep(); k <= SERIES.lastStep(); k++) {
      double exact = SERIES.exact(k);
      if (exact >= lowest.speed * 0.999 && exact <= highest.speed * 1.001) {
        steps.add(new Iso(exact));
      }
    }
    return steps;
  }

  /** Parses {@code 400} or {@code ISO 400}. */
  public static Iso parse(String text) {
    String body = text.strip().toLowerCase(Locale.ROOT).replaceFirst("^iso\\s*", "");
    return ofNominal(Numbers.parse(body, "an ISO such as 400", text));
  }

  /** The engraved speed, 125 for 125.99. */
  public double nominalSpeed() {
    return SERIES.shown(speed);
  }

  /** APEX speed value, log2(S / 3.125) (Exif 2.3x, Annex C): 5 at ISO 100. */
  public double sv() {
    return Math.log(speed / 3.125) / Math.log(2);
  }

  @Override
  public int compareTo(Iso other) {
    return Double.compare(speed, other.speed);
  }

  @Override
  public String toString() {
    return String.format(Locale.ROOT, "ISO %.0f", nominalSpeed());
  }
}

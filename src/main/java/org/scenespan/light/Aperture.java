package org.scenespan.light;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/**
 * A lens opening as an f-number. Computes with the exact number (11.31), shows the engraved (11).
 *
 * @param number the exact f-number, 0.5 to 128
 */
public record Aperture(double number) implements Comparable<Aperture> {
  private static final ThirdStops SERIES =
      new ThirdStops(
          1,
          6,
          0,
          List.of(
              1.0, 1.1, 1.2, 1.4, 1.6, 1.8, 2.0, 2.2, 2.5, 2.8, 3.2, 3.5, 4.0, 4.5, 5.0, 5.6, 6.3,
              7.1, 8.0, 9.0, 10.0, 11.0, 13.0, 14.0, 16.0, 18.0, 20.0, 22.0, 25.0, 29.0, 32.0, 36.0,
              40.0, 45.0, 51.0, 57.0, 64.0));

  public Aperture {
    if (!(number >= 0.5 && number <= 128)) {
      throw new IllegalArgumentException("aperture (f/" + number + ") must be f/0.5 to f/128");
    }
  }

  /** The step {@code k} of the third-stop series, exactly f/2^(k/6). */
  public static Aperture ofThird(int k) {
    return new Aperture(SERIES.exact(k));
  }

  /** The opening that a written f-number means: 11 is the step engraved f/11, exactly 11.31. */
  public static Aperture ofNominal(double number) {
    return new Aperture(SERIES.meaning(new Aperture(number).number));
  }

  /** Every step of the third-stop series, widest first. */
  public static List<Aperture> thirds() {
    List<Aperture> steps = new ArrayList<>();
    for (int k = SERIES.firstStep(); k <= SERIES.lastStep(); k++) {
      steps.add(ofThird(k));
    }
    return steps;
  }

  /** Parses {@code f/5.6}, {@code F5.6} or {@code 5.6}. */
  public static Aperture parse(String text) {
    String body = text.strip().toLowerCase(Locale.ROOT).replaceFirst("^f/?\\s*", "");
    double number = Numbers.parse(body, "an aperture such as f/8 or 5.6", text);
    return ofNominal(number);
  }

  /** The engraved f-number, 11 for 11.31. */
  public double nominalNumber() {
    return SERIES.shown(number);
  }

  /** APEX aperture value, log2 N² (Exif 2.3x, Annex C). */
  public double av() {
    return 2 * Math.log(number) / Math.log(2);
  }

  @Override
  public int compareTo(Aperture other) {
    return Double.compare(number, other.number);
  }

  /** As engraved: {@code f/5.6}, {@code f/8}. */
  @Override
  public String toString() {
    String digits = String.format(Locale.ROOT, "%.2f", nominalNumber());
    return "f/" + digits.replaceAll("0+$", "").replaceAll("\\.$", "");
  }
}

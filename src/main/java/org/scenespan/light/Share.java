package org.scenespan.light;

/**
 * A part of a whole.
 *
 * @param value 0 to 1
 */
public record Share(double value) implements Comparable<Share> {
  public static final Share NONE = new Share(0);
  public static final Share ALL = new Share(1);

  public Share {
    if (!(value >= 0 && value <= 1)) {
      throw new IllegalArgumentException("share (" + value + ") must be 0 to 1");
    }
  }

  public static Share of(long part, long whole) {
    if (!(part >= 0 && part <= whole)) {
      throw new IllegalArgumentException("part (" + part + ") must be 0 to the whole, " + whole);
    }
    return whole == 0 ? NONE : new Share((double) part / whole);
  }

  /** Parses {@code 0.0001} or {@code 0.01%}. */
  public static Share parse(String text) {
    String trimmed = text.strip();
    boolean percent = trimmed.endsWith("%");
    String digits = percent ? trimmed.substring(0, trimmed.length() - 1).strip() : trimmed;
    double number = Numbers.parse(digits, "a share such as 0.0001 or 0.01%", text);
    return new Share(percent ? number / 100 : number);
  }

  public boolean exceeds(Share tolerance) {
    return value > tolerance.value;
  }

  @Override
  public int compareTo(Share other) {
    return Double.compare(value, other.value);
  }
}

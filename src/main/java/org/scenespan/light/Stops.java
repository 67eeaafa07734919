package org.scenespan.light;

import java.util.Locale;

/**
 * A difference of light in stops, the base-2 logarithm of a ratio; positive is more light.
 *
 * @param value stops, finite
 */
public record Stops(double value) implements Comparable<Stops> {
  public static final Stops ZERO = new Stops(0);

  /** One click of a camera's dial in the third-stop series. */
  public static final Stops THIRD = new Stops(1.0 / 3);

  public Stops {
    if (!Double.isFinite(value)) {
      throw new IllegalArgumentException("stops (" + value + ") must be a finite number");
    }
  }

  /** The stops between two amounts of light, {@code log2(ratio)}; the ratio must be positive. */
  public static Stops ofRatio(double ratio) {
    if (!(ratio > 0)) {
      throw new IllegalArgumentException("ratio (" + ratio + ") must be above 0");
    }
    return new Stops(Math.log(ratio) / Math.log(2));
  }

  /** The ratio of light, {@code 2^value}. */
  public double ratio() {
    return Math.pow(2, value);
  }

  public Stops plus(Stops other) {
    return new Stops(value + other.value);
  }

  public Stops minus(Stops other) {
    return new Stops(value - other.value);
  }

  public Stops negated() {
    return new Stops(-value);
  }

  public Stops abs() {
    return new Stops(Math.abs(value));
  }

  @Override
  public int compareTo(Stops other) {
    return Double.compare(value, other.value);
  }

  /** One decimal and always a sign, as a photographer reads a compensation dial: {@code +1.3}. */
  @Override
  public String toString() {
    return String.format(Locale.ROOT, "%+.1f", value);
  }
}

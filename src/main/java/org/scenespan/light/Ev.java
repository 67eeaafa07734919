package org.scenespan.light;

import java.util.Locale;

/**
 * An exposure value at ISO 100. Of an exposure, a bigger EV is a darker one; of a scene, a bigger
 * EV is a brighter one (the exposure that renders it as mid grey).
 *
 * @param value EV, finite
 */
public record Ev(double value) implements Comparable<Ev> {
  public Ev {
    if (!Double.isFinite(value)) {
      throw new IllegalArgumentException("EV (" + value + ") must be a finite number");
    }
  }

  public Ev plus(Stops stops) {
    return new Ev(value + stops.value());
  }

  public Ev minus(Stops stops) {
    return new Ev(value - stops.value());
  }

  /** How many stops this EV lies above the other. */
  public Stops minus(Ev other) {
    return new Stops(value - other.value);
  }

  public boolean isAbove(Ev other) {
    return value > other.value;
  }

  @Override
  public int compareTo(Ev other) {
    return Double.compare(value, other.value);
  }

  @Override
  public String toString() {
    return String.format(Locale.ROOT, "EV %.1f", value);
  }
}

package org.scenespan.light;

import java.util.List;
import java.util.OptionalInt;

/**
 * The third-stop series of one quantity: step {@code k} stands exactly at {@code origin ·
 * 2^(k/divisor)} and carries the name that is engraved on cameras, which is rounded by tradition
 * (1/125 for 1/128, f/11 for 11.31).
 */
final class ThirdStops {
  /** How near a value must be to a name or to an exact step to be taken for it: 0.2 %. */
  private static final double SAME = 0.002;

  private final double origin;
  private final int divisor;
  private final int first;
  private final List<Double> nominals;

  /**
   * @param origin the value of step 0
   * @param divisor steps to a doubling of the value
   * @param first the step of the first nominal
   * @param nominals the engraved values, ascending
   */
  ThirdStops(double origin, int divisor, int first, List<Double> nominals) {
    this.origin = origin;
    this.divisor = divisor;
    this.first = first;
    this.nominals = List.copyOf(nominals);
  }

  double exact(int step) {
    return origin * Math.pow(2, (double) step / divisor);
  }

  int firstStep() {
    return first;
  }

  int lastStep() {
    return first + nominals.size() - 1;
  }

  /** The step whose exact value this is, if it is one. */
  OptionalInt stepOfExact(double value) {
    int step = (int) Math.rint(divisor * Math.log(value / origin) / Math.log(2));
    boolean inside = step >= firstStep() && step <= lastStep();
    return inside && isSame(exact(step), value) ? OptionalInt.of(step) : OptionalInt.empty();
  }

  /** The step that is engraved with this value, if one is. */
  OptionalInt stepOfNominal(double value) {
    for (int i = 0; i < nominals.size(); i++) {
      if (isSame(nominals.get(i), value)) {
        return OptionalInt.of(first + i);
      }
    }
    return OptionalInt.empty();
  }

  double nominal(int step) {
    return nominals.get(step - first);
  }

  /** The exact value that a written number means: a name's step, a step, or else the number. */
  double meaning(double written) {
    OptionalInt step = stepOfNominal(written);
    if (step.isEmpty()) {
      step = stepOfExact(written);
    }
    return step.isPresent() ? exact(step.getAsInt()) : written;
  }

  /** The number to show for an exact value: its engraved name where it has one. */
  double shown(double value) {
    OptionalInt step = stepOfExact(value);
    return step.isPresent() ? nominal(step.getAsInt()) : value;
  }

  private static boolean isSame(double one, double other) {
    return Math.abs(one / other - 1) < SAME;
  }
}

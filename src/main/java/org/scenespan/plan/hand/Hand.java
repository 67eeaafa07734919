package org.scenespan.plan.hand;

import org.scenespan.light.Exposure;
import org.scenespan.light.Stops;

/**
 * A camera whose dials are turned by hand.
 *
 * @param mode how it sets its exposure
 * @param clicksAStop clicks of a dial to a stop: 3, or 2
 * @param compensation how far exposure compensation goes either way, 1 to 5 stops
 */
public record Hand(Mode mode, int clicksAStop, Stops compensation) {
  public Hand {
    if (!(clicksAStop == 2 || clicksAStop == 3)) {
      throw new IllegalArgumentException("clicks a stop (" + clicksAStop + ") must be 2 or 3");
    }
    if (!(compensation.value() >= 1 && compensation.value() <= 5)) {
      throw new IllegalArgumentException(
          "exposure compensation (" + compensation.value() + ") must be 1 to 5 stops");
    }
  }

  /** What the camera leaves to the hand. */
  public enum Mode {
    /** Everything. */
    MANUAL("manual"),
    /** The aperture; the camera meters and sets the shutter. */
    APERTURE_PRIORITY("aperture-priority"),
    /** The shutter; the camera meters and sets the aperture. */
    SHUTTER_PRIORITY("shutter-priority"),
    /** Shutter and aperture; the camera meters and sets the ISO. */
    AUTOMATIC_ISO("automatic-iso");

    private final String label;

    Mode(String label) {
      this.label = label;
    }

    /** The word for it in the journal and on the command line. */
    public String label() {
      return label;
    }

    /**
     * @throws IllegalArgumentException if no mode has this label
     */
    public static Mode of(String label) {
      for (Mode mode : values()) {
        if (mode.label.equals(label)) {
          return mode;
        }
      }
      throw new IllegalArgumentException(
          "\""
              + label
              + "\" is not a mode: manual, aperture-priority, shutter-priority, automatic-iso");
    }
  }

  /** Whether all dials stand alike in two exposures: each within half a click. */
  public boolean isSameSetting(Exposure one, Exposure other) {
    double half = 0.5 / clicksAStop + 1e-6;
    return Math.abs(one.shutter().tv() - other.shutter().tv()) <= half
        && Math.abs(one.aperture().av() - other.aperture().av()) <= half
        && Math.abs(one.iso().sv() - other.iso().sv()) <= half;
  }

  /** Whether the camera meters, so that compensation is the dial. */
  public boolean meters() {
    return mode != Mode.MANUAL;
  }
}

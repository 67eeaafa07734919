package org.scenespan.plan;

import java.util.Optional;
import org.scenespan.light.Share;
import org.scenespan.light.Stops;

/**
 * What the photographer wants of a bracket beyond numbers.
 *
 * @param keep which end of the scene matters
 * @param letGoArea a clipped area that is connected and no larger than this share of the picture
 *     may be let go (a sun's disc, sparkle on water), whatever all such areas add up to
 * @param steps even steps between frames instead of computed ones, 1/3 to 12 stops
 * @param copies how often each frame is taken, to be averaged for less noise, 1 to 16
 * @param order in which frames are taken
 * @param extraForMotion whether one more frame is taken for what moves
 */
public record Intent(
    Keep keep,
    Share letGoArea,
    Optional<Stops> steps,
    int copies,
    Order order,
    boolean extraForMotion) {
  public static final Intent USUAL =
      new Intent(Keep.BOTH, Share.NONE, Optional.empty(), 1, Order.PLANNED, false);

  /** Which end of the scene matters. */
  public enum Keep {
    /** Both ends. */
    BOTH("both"),
    /** What is darker than the middle may be let go. */
    HIGHLIGHTS("highlights"),
    /** What is brighter than the middle may be let go. */
    SHADOWS("shadows");

    private final String label;

    Keep(String label) {
      this.label = label;
    }

    /** The word for it on the command line and in the journal. */
    public String label() {
      return label;
    }
  }

  /** In which order frames are taken, as far as what is still unknown allows. */
  public enum Order {
    /** As what is learned asks for. */
    PLANNED("planned"),
    /** The shortest exposure first. */
    SHORTEST("shortest"),
    /** The longest exposure first. */
    LONGEST("longest");

    private final String label;

    Order(String label) {
      this.label = label;
    }

    /** The word for it on the command line and in the journal. */
    public String label() {
      return label;
    }
  }

  public Intent {
    if (steps.isPresent()
        && !(steps.get().value() >= Stops.THIRD.value() - 1e-9 && steps.get().value() <= 12)) {
      throw new IllegalArgumentException(
          "even steps (" + steps.get().value() + " stops) must be a third of a stop to 12");
    }
    if (!(copies >= 1 && copies <= 16)) {
      throw new IllegalArgumentException("copies (" + copies + ") must be 1 to 16");
    }
  }
}

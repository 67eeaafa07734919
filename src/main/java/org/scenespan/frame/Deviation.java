package org.scenespan.frame;

import java.util.Optional;
import org.scenespan.light.Share;
import org.scenespan.light.Stops;

/**
 * How a frame differs from the reference frame.
 *
 * @param against the reference frame's file
 * @param exposure how much brighter the patch is, or the whole picture where there is no patch: the
 *     median over blocks
 * @param whole how much brighter the whole picture is in the middle
 * @param redToGreen the ratio of red to green over the reference's, less 1: 0.02 is 2 % redder
 * @param blueToGreen likewise of blue
 * @param patch where the patch was found; absent where there is none
 * @param patchSeen whether the picture at that place looks like the patch; true without one
 * @param patchSharpness sharpness within the patch over that in the reference frame; absent where
 *     there is no patch, where it is not seen, and where it held less detail than the whole, as a
 *     plain card does: that tells only noise
 * @param band a dark band from an edge of the frame, as a shutter leaves that hides a flash
 */
public record Deviation(
    String against,
    Stops exposure,
    Stops whole,
    double redToGreen,
    double blueToGreen,
    Optional<Patch> patch,
    boolean patchSeen,
    Optional<Double> patchSharpness,
    Optional<Band> band) {
  public Deviation {
    requireRatio("red to green", redToGreen);
    requireRatio("blue to green", blueToGreen);
    patchSharpness.ifPresent(ratio -> requireSharpness(ratio));
  }

  /** Without a sharpness of the patch. */
  public Deviation(
      String against,
      Stops exposure,
      Stops whole,
      double redToGreen,
      double blueToGreen,
      Optional<Patch> patch,
      boolean patchSeen,
      Optional<Band> band) {
    this(
        against,
        exposure,
        whole,
        redToGreen,
        blueToGreen,
        patch,
        patchSeen,
        Optional.empty(),
        band);
  }

  private static void requireRatio(String name, double value) {
    if (!(value > -1 && value < Double.POSITIVE_INFINITY)) {
      throw new IllegalArgumentException(name + " (" + value + ") must be above -1 and finite");
    }
  }

  private static void requireSharpness(double ratio) {
    if (!(ratio >= 0 && ratio < Double.POSITIVE_INFINITY)) {
      throw new IllegalArgumentException(
          "patch sharpness (" + ratio + ") must be 0 or more and finite");
    }
  }

  /**
   * A part of the frame from one edge on that is much darker than the rest.
   *
   * @param edge from where
   * @param part of the picture
   * @param drop how much darker, above 0
   */
  public record Band(Edge edge, Share part, Stops drop) {}

  /** An edge of the upright picture. */
  public enum Edge {
    TOP("top"),
    BOTTOM("bottom"),
    LEFT("left"),
    RIGHT("right");

    private final String label;

    Edge(String label) {
      this.label = label;
    }

    /** The word for it in the journal. */
    public String label() {
      return label;
    }
  }
}

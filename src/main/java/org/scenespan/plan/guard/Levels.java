package org.scenespan.plan.guard;

import org.scenespan.light.Share;
import org.scenespan.light.Stops;

/**
 * From where on a deviation is told. Those for exposure and colour are common practice of studios
 * without a published source; so are the others, which are our own choice.
 *
 * @param exposure of the patch, stops either way
 * @param colour red or blue against green, as a part
 * @param clipping more of the picture clipped in a channel than in the reference frame
 * @param sharpness what is lost of the session's median, as a part
 */
public record Levels(Pair exposure, Pair colour, Pair clipping, Pair sharpness) {
  public static final Levels USUAL =
      new Levels(
          new Pair(0.1, 0.2), new Pair(0.02, 0.04), new Pair(0.002, 0.01), new Pair(0.3, 0.5));

  /** A whole frame this much darker than those before it is a misfired flash. */
  public static final Stops MISFIRE = new Stops(-1);

  /**
   * A level to warn at and one to raise the alarm at.
   *
   * @param warn above 0
   * @param alarm at least as much
   */
  public record Pair(double warn, double alarm) {
    public Pair {
      if (!(warn > 0 && alarm >= warn && alarm < Double.POSITIVE_INFINITY)) {
        throw new IllegalArgumentException(
            "levels (" + warn + ", " + alarm + ") must be above 0 and not fall");
      }
    }

    /** What an amount calls for; a level that is met to the last digit counts as reached. */
    public Finding.Weight of(double amount) {
      if (amount >= alarm) {
        return Finding.Weight.ALARM;
      }
      return amount >= warn ? Finding.Weight.WARNING : Finding.Weight.NONE;
    }
  }

  /** How far one channel may clip beyond the reference before it is told. */
  Finding.Weight clipping(Share now, Share reference) {
    return clipping.of(now.value() - reference.value());
  }
}

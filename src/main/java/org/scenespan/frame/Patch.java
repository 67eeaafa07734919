package org.scenespan.frame;

/**
 * An upright rectangle in a picture, in parts of its width and height from its upper left corner.
 *
 * @param left 0 to 1
 * @param top 0 to 1
 * @param width above 0; the right edge lies within the picture
 * @param height above 0; the lower edge lies within the picture
 */
public record Patch(double left, double top, double width, double height) {
  /** All of a picture. */
  public static final Patch WHOLE = new Patch(0, 0, 1, 1);

  /** Rounding in a browser may leave an edge this far outside. */
  private static final double SLACK = 1e-6;

  public Patch {
    requireWithin("left", left, width);
    requireWithin("top", top, height);
  }

  private static void requireWithin(String name, double from, double length) {
    if (!(from >= 0 && length > 0 && from + length <= 1 + SLACK)) {
      throw new IllegalArgumentException(
          "a patch from " + name + " " + from + " of length " + length + " must lie within 0 to 1");
    }
  }

  /** The same rectangle, moved. */
  Patch movedTo(double newLeft, double newTop) {
    return new Patch(
        Math.max(0, Math.min(newLeft, 1 - width)),
        Math.max(0, Math.min(newTop, 1 - height)),
        width,
        height);
  }
}

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

  /**
   * The same part of the scene in a picture as its file has it.
   *
   * @param orientation Exif's 1 to 8: how the file's picture is turned to be upright (CIPA DC-008)
   */
  public Patch asFiled(int orientation) {
    double right = Math.max(0, 1 - left - width);
    double lower = Math.max(0, 1 - top - height);
    return switch (orientation) {
      case 2 -> new Patch(right, top, width, height);
      case 3 -> new Patch(right, lower, width, height);
      case 4 -> new Patch(left, lower, width, height);
      case 5 -> new Patch(top, left, height, width);
      case 6 -> new Patch(top, right, height, width);
      case 7 -> new Patch(lower, right, height, width);
      case 8 -> new Patch(lower, left, height, width);
      default -> this;
    };
  }
}

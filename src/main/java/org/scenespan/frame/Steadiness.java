package org.scenespan.frame;

import java.util.Optional;

/**
 * What a lapse's frame tells of whether camera and lens are as they were.
 *
 * @param detail how sharp it is; absent where nothing tells
 * @param shift from the frame before; absent where it cannot be told, zero where nothing moved
 */
public record Steadiness(Optional<Detail> detail, Optional<Shift> shift) {
  /** Of a frame of which nothing is known. */
  public static final Steadiness UNKNOWN = new Steadiness(Optional.empty(), Optional.empty());

  /**
   * How far the picture as a whole has moved, as the file has it.
   *
   * @param right in parts of the picture's width
   * @param down in parts of the picture's height
   */
  public record Shift(double right, double down) {
    public static final Shift NONE = new Shift(0, 0);

    public Shift {
      if (!(Math.abs(right) <= 1 && Math.abs(down) <= 1)) {
        throw new IllegalArgumentException(
            "a shift (" + right + ", " + down + ") must be at most the picture's size");
      }
    }

    public boolean isNone() {
      return right == 0 && down == 0;
    }
  }
}

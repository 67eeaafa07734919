package org.scenespan.frame;

/** Relative luminance of linear light with the primaries of ITU-R BT.709. */
public final class Luminance {
  public static final double RED = 0.2126;
  public static final double GREEN = 0.7152;
  public static final double BLUE = 0.0722;

  private Luminance() {}

  /** Y of three linear values. */
  public static double of(double red, double green, double blue) {
    return RED * red + GREEN * green + BLUE * blue;
  }
}

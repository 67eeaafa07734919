package org.scenespan.frame;

/**
 * Linear light of unsigned codes, relative to saturation; the highest code, and no other, is
 * clipped. Unlike {@link ToneResponse} it goes below 0, so that the noise of a black stays centred
 * and an average of many such pixels is right. Immutable.
 */
public final class CodeScale {
  /** The code of no light where raw light is written in 16 bits: room for noise below black. */
  private static final int BLACK_16 = 2048;

  private static final int TOP_16 = 65_535;

  private final float[] light;

  private CodeScale(float[] light) {
    this.light = light;
  }

  /** The scale of a tone response. */
  public static CodeScale of(ToneResponse response) {
    float[] light = new float[response.codes()];
    for (int code = 0; code < light.length; code++) {
      light[code] = (float) response.linear(code);
    }
    return new CodeScale(light);
  }

  /** Sixteen bits, linear, black at 2048. */
  public static CodeScale linear16() {
    float[] light = new float[TOP_16 + 1];
    for (int code = 0; code <= TOP_16; code++) {
      light[code] = (float) ((double) (code - BLACK_16) / (TOP_16 - BLACK_16));
    }
    return new CodeScale(light);
  }

  /**
   * The code of light in {@link #linear16()}; below the highest unless it is clipped.
   *
   * @param light relative to saturation
   */
  public static short code16(double light) {
    if (light >= 1) {
      return (short) TOP_16;
    }
    long code = Math.round(BLACK_16 + light * (TOP_16 - BLACK_16));
    return (short) Math.max(0, Math.min(TOP_16 - 1, code));
  }

  public int codes() {
    return light.length;
  }

  public float light(int code) {
    return light[code];
  }

  /** The width of a code's step in linear light: how coarsely light is told apart there. */
  public float step(int code) {
    int below = Math.max(0, code - 1);
    int above = Math.min(light.length - 1, code + 1);
    return (light[above] - light[below]) / (above - below);
  }
}

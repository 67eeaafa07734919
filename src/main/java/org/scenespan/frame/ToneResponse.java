package org.scenespan.frame;

import java.util.function.DoubleUnaryOperator;

/**
 * From code values to linear light relative to saturation. Immutable.
 *
 * <p>A camera's JPEG is tone-mapped, so the sRGB response is only a first guess for one; raw codes
 * are linear.
 */
public final class ToneResponse {
  private final double[] linear;

  private ToneResponse(double[] linear) {
    this.linear = linear;
  }

  /**
   * The sRGB response (IEC 61966-2-1) for codes of a number of bits; the highest code is clipping.
   *
   * @param bits 1 to 16
   */
  public static ToneResponse srgb(int bits) {
    return of(bits, ToneResponse::srgbToLinear);
  }

  /**
   * A response by a transfer function; the highest code is clipping.
   *
   * @param bits 1 to 16
   * @param transfer linear light of an encoded value, 0 to 1 on both sides, never decreasing
   */
  public static ToneResponse of(int bits, DoubleUnaryOperator transfer) {
    int codes = codes(bits);
    double[] linear = new double[codes];
    for (int code = 0; code < codes; code++) {
      linear[code] = transfer.applyAsDouble((double) code / (codes - 1));
    }
    return new ToneResponse(linear);
  }

  /**
   * A raw file's response: black level is 0, white level is 1 and clips.
   *
   * @param bits 1 to 16
   * @param black the code of no light
   * @param white the code of saturation, above black
   */
  public static ToneResponse raw(int bits, double black, double white) {
    if (!(black >= 0 && white > black)) {
      throw new IllegalArgumentException(
          "white level (" + white + ") must be above the black level (" + black + ")");
    }
    int codes = codes(bits);
    double[] linear = new double[codes];
    for (int code = 0; code < codes; code++) {
      linear[code] = Math.max(0, Math.min(1, (code - black) / (white - black)));
    }
    return new ToneResponse(linear);
  }

  private static int codes(int bits) {
    if (!(bits >= 1 && bits <= 16)) {
      throw new IllegalArgumentException("bits (" + bits + ") must be 1 to 16");
    }
    return 1 << bits;
  }

  /** sRGB decoding (IEC 61966-2-1), 0 to 1 on both sides. */
  public static double srgbToLinear(double encoded) {
    return encoded <= 0.04045 ? encoded / 12.92 : Math.pow((encoded + 0.055) / 1.055, 2.4);
  }

  /** sRGB encoding (IEC 61966-2-1), 0 to 1 on both sides. */
  public static double linearToSrgb(double linear) {
    return linear <= 0.0031308 ? linear * 12.92 : 1.055 * Math.pow(linear, 1 / 2.4) - 0.055;
  }

  public int codes() {
    return linear.length;
  }

  /** Linear light of a code relative to saturation, 0 to 1. */
  public double linear(int code) {
    return linear[code];
  }
}

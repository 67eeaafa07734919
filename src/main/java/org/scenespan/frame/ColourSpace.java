package org.scenespan.frame;

/**
 * How a picture's codes stand for light: the transfer from codes to linear light, and what each
 * channel adds to luminance.
 *
 * @param label the word for it in JSON
 * @param exponent of the transfer linear = encoded^exponent; 0 for the curve of sRGB
 * @param red luminance of linear red alone, of a white of 1; likewise green and blue
 */
public record ColourSpace(String label, double exponent, double red, double green, double blue) {
  private static final double SRGB_CURVE = 0;

  /** IEC 61966-2-1, with the luminance of ITU-R BT.709. */
  public static final ColourSpace SRGB =
      new ColourSpace("srgb", SRGB_CURVE, Luminance.RED, Luminance.GREEN, Luminance.BLUE);

  /** Nothing that is known says what the codes mean, or it is not understood: taken as sRGB. */
  public static final ColourSpace ASSUMED_SRGB = SRGB.named("assumed-srgb");

  /** Linear light with the primaries of BT.709; 1 is saturation. */
  public static final ColourSpace LINEAR =
      new ColourSpace("linear", 1, Luminance.RED, Luminance.GREEN, Luminance.BLUE);

  /** A sensor's own channels, which are taken for those of BT.709. */
  public static final ColourSpace SENSOR = LINEAR.named("sensor");

  /** Adobe RGB (1998) Color Image Encoding, version 2005-05, sections 4.3.4 and 4.3.5. */
  public static final ColourSpace ADOBE_RGB =
      new ColourSpace("adobe-rgb", 563.0 / 256, 0.29734, 0.62737, 0.07529);

  /** SMPTE EG 432-1's primaries with D65 and the curve of sRGB; weights [computed]. */
  public static final ColourSpace DISPLAY_P3 =
      new ColourSpace("display-p3", SRGB_CURVE, 0.22897, 0.69174, 0.07929);

  public ColourSpace {
    if (!(exponent >= 0 && exponent <= 10)) {
      throw new IllegalArgumentException("exponent (" + exponent + ") must be 0 to 10");
    }
    if (!(red >= 0 && green >= 0 && blue >= 0 && Math.abs(red + green + blue - 1) < 1e-9)) {
      throw new IllegalArgumentException(
          "luminances (" + red + ", " + green + ", " + blue + ") must add up to 1");
    }
  }

  public ColourSpace named(String name) {
    return new ColourSpace(name, exponent, red, green, blue);
  }

  /** The same channels with another transfer, linear = encoded^exponent. */
  public ColourSpace withPower(double power) {
    return new ColourSpace(label, power, red, green, blue);
  }

  /** Linear light of an encoded value, 0 to 1 on both sides. */
  public double linear(double encoded) {
    return exponent == SRGB_CURVE
        ? ToneResponse.srgbToLinear(encoded)
        : exponent == 1 ? encoded : Math.pow(encoded, exponent);
  }

  /**
   * The response of codes whose highest is clipping.
   *
   * @param bits 1 to 16
   */
  public ToneResponse response(int bits) {
    return ToneResponse.of(bits, this::linear);
  }

  /** Luminance of linear channels. */
  public double luminance(double r, double g, double b) {
    return red * r + green * g + blue * b;
  }
}

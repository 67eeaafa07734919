package org.scenespan.folder;

import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;

/** Writes small ICC profiles (ICC.1:2022) for tests: three colorants and one curve for all. */
final class ProfileBytes {
  private ProfileBytes() {}

  /** The curve of sRGB as the specification's function of kind 3. */
  static byte[] srgbCurve() {
    return parametric(3, 2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045);
  }

  static byte[] parametric(int kind, double... numbers) {
    ByteBuffer curve = ByteBuffer.allocate(12 + 4 * numbers.length);
    curve.put("para".getBytes(StandardCharsets.US_ASCII)).putInt(0).putShort((short) kind);
    curve.putShort((short) 0);
    for (double number : numbers) {
      curve.putInt((int) Math.round(number * 65536));
    }
    return curve.array();
  }

  /** A power as one number of 8.8 bits. */
  static byte[] power(double exponent) {
    ByteBuffer curve = ByteBuffer.allocate(16);
    curve.put("curv".getBytes(StandardCharsets.US_ASCII)).putInt(0).putInt(1);
    curve.putShort((short) Math.round(exponent * 256));
    return curve.array();
  }

  /** A curve of samples. */
  static byte[] sampled(int count, java.util.function.DoubleUnaryOperator transfer) {
    ByteBuffer curve = ByteBuffer.allocate(12 + 2 * count + 2);
    curve.put("curv".getBytes(StandardCharsets.US_ASCII)).putInt(0).putInt(count);
    for (int i = 0; i < count; i++) {
      curve.putShort((short) Math.round(65535 * transfer.applyAsDouble(i / (count - 1.0))));
    }
    return curve.array();
  }

  /**
   * @param colorants XYZ of red, green and blue, or nothing for a grey profile
   */
  static byte[] profile(byte[] curve, double... colorants) {
    boolean grey = colorants.length == 0;
    String[] tags =
        grey
            ? new String[] {"kTRC"}
            : new String[] {"rXYZ", "gXYZ", "bXYZ", "rTRC", "gTRC", "bTRC"};
    int start = 128 + 4 + 12 * tags.length;
    ByteBuffer profile = ByteBuffer.allocate(start + (grey ? 0 : 60) + curve.length);
    profile.putInt(0, profile.capacity());
    profile.position(12);
    profile.put("mntr".getBytes(StandardCharsets.US_ASCII));
    profile.put((grey ? "GRAY" : "RGB ").getBytes(StandardCharsets.US_ASCII));
    profile.put("XYZ ".getBytes(StandardCharsets.US_ASCII));
    profile.position(36);
    profile.put("acsp".getBytes(StandardCharsets.US_ASCII));
    profile.position(128);
    profile.putInt(tags.length);
    for (int i = 0; i < tags.length; i++) {
      boolean colorant = tags[i].endsWith("XYZ");
      profile.put(tags[i].getBytes(StandardCharsets.US_ASCII));
      profile.putInt(colorant ? start + 20 * i : start + (grey ? 0 : 60));
      profile.putInt(colorant ? 20 : curve.length);
    }
    for (int i = 0; i < colorants.length; i += 3) {
      profile.put("XYZ ".getBytes(StandardCharsets.US_ASCII)).putInt(0);
      for (int k = 0; k < 3; k++) {
        profile.putInt((int) Math.round(colorants[i + k] * 65536));
      }
    }
    profile.put(curve);
    return profile.array();
  }
}

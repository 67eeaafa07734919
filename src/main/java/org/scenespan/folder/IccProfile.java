package org.scenespan.folder;

import java.nio.ByteBuffer;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.scenespan.frame.ColourSpace;

/**
 * Recognises the colour space of an ICC profile (ICC.1:2022) by its own numbers: the three
 * colorants and the tone curves, never by its name.
 */
final class IccProfile {
  private static final int HEADER_BYTES = 128;
  private static final int MOST_TAGS = 200;

  /** s15Fixed16 has steps of 1.5e-5, and makers round in several ways. */
  private static final double COLORANT_TOLERANCE = 0.002;

  /** Of values encoded again: a little more than one 8-bit code. */
  private static final double CURVE_TOLERANCE = 0.005;

  /** Colorants in the profile connection space (D50), XYZ of red, green and blue. */
  private static final double[] BT709 = {
    0.4361, 0.2225, 0.0139, 0.3851, 0.7169, 0.0971, 0.1431, 0.0606, 0.7141
  };

  private static final double[] ADOBE = {
    0.6097, 0.3111, 0.0195, 0.2053, 0.6257, 0.0609, 0.1492, 0.0632, 0.7446
  };
  private static final double[] P3 = {
    0.5151, 0.2412, -0.0011, 0.2920, 0.6922, 0.0419, 0.1571, 0.0666, 0.7841
  };

  private static final ColourSpace GREY_22 =
      ColourSpace.SRGB.withPower(ColourSpace.ADOBE_RGB.exponent()).named("grey-gamma-2.2");

  private record Known(double[] colorants, ColourSpace space) {}

  private static final List<Known> KNOWN =
      List.of(
          new Known(BT709, ColourSpace.SRGB),
          new Known(BT709, ColourSpace.LINEAR),
          new Known(ADOBE, ColourSpace.ADOBE_RGB),
          new Known(P3, ColourSpace.DISPLAY_P3));

  private final ByteBuffer profile;

  private IccProfile(byte[] profile) {
    this.profile = ByteBuffer.wrap(profile);
  }

  /** The colour space of a profile; nothing where it is none that is known, or damaged. */
  static Optional<ColourSpace> recognised(byte[] profile) {
    try {
      return new IccProfile(profile).recognised();
    } catch (IndexOutOfBoundsException e) {
      return Optional.empty();
    }
  }

  private Optional<ColourSpace> recognised() {
    if (profile.capacity() < HEADER_BYTES + 4 || profile.getInt(36) != 0x61637370) {
      return Optional.empty();
    }
    int colours = profile.getInt(16);
    if (colours == 0x47524159) { // GRAY
      int curve = tag("kTRC");
      return Stream.of(ColourSpace.SRGB, ColourSpace.LINEAR, GREY_22)
          .filter(space -> curve >= 0 && isCurve(curve, space))
          .findFirst();
    }
    if (colours != 0x52474220) { // RGB
      return Optional.empty();
    }
    return KNOWN.stream().filter(this::matches).map(Known::space).findFirst();
  }

  private boolean matches(Known known) {
    String[] names = {"r", "g", "b"};
    for (int channel = 0; channel < 3; channel++) {
      int colorant = tag(names[channel] + "XYZ");
      int curve = tag(names[channel] + "TRC");
      if (colorant < 0 || curve < 0) {
        return false;
      }
      for (int i = 0; i < 3; i++) {
        double value = profile.getInt(colorant + 8 + 4 * i) / 65536.0;
        if (!(Math.abs(value - known.colorants[3 * channel + i]) <= COLORANT_TOLERANCE)) {
          return false;
        }
      }
      if (!isCurve(curve, known.space)) {
        return false;
      }
    }
    return true;
  }

  /** Where a tag's content begins, −1 where it is missing. */
  private int tag(String name) {
    int wanted = 0;
    for (char c : name.toCharArray()) {
      wanted = wanted << 8 | c;
    }
    int count = Math.min(profile.getInt(HEADER_BYTES), MOST_TAGS);
    for (int i = 0; i < count; i++) {
      int entry = HEADER_BYTES + 4 + 12 * i;
      if (profile.getInt(entry) == wanted) {
        return profile.getInt(entry + 4);
      }
    }
    return -1;
  }

  private boolean isCurve(int at, ColourSpace space) {
    for (int i = 0; i <= 32; i++) {
      double encoded = i / 32.0;
      double got = Math.pow(Math.max(0, curve(at, encoded)), 1 / 2.2);
      if (!(Math.abs(got - Math.pow(space.linear(encoded), 1 / 2.2)) <= CURVE_TOLERANCE)) {
        return false;
      }
    }
    return true;
  }

  private double curve(int at, double encoded) {
    int type = profile.getInt(at);
    if (type == 0x63757276) { // curv
      return sampled(at, encoded);
    }
    return type == 0x70617261 ? parametric(at, encoded) : Double.NaN; // para
  }

  private double sampled(int at, double encoded) {
    int count = profile.getInt(at + 8);
    if (count == 0) {
      return encoded;
    }
    if (count == 1) {
      return Math.pow(encoded, (profile.getShort(at + 12) & 0xffff) / 256.0);
    }
    double place = encoded * (count - 1);
    int low = (int) Math.min(place, count - 2);
    double one = (profile.getShort(at + 12 + 2 * low) & 0xffff) / 65535.0;
    double other = (profile.getShort(at + 14 + 2 * low) & 0xffff) / 65535.0;
    return one + (other - one) * (place - low);
  }

  /** ICC.1:2022, table 68: g, a, b, c, d, e, f as far as the kind has them. */
  private double parametric(int at, double encoded) {
    int kind = profile.getShort(at + 8);
    if (!(kind >= 0 && kind <= 4)) {
      return Double.NaN;
    }
    int[] numbers = {1, 3, 4, 5, 7};
    double[] p = new double[7];
    for (int i = 0; i < numbers[kind]; i++) {
      p[i] = profile.getInt(at + 12 + 4 * i) / 65536.0;
    }
    return switch (kind) {
      case 0 -> Math.pow(encoded, p[0]);
      case 1 -> encoded >= -p[2] / p[1] ? Math.pow(p[1] * encoded + p[2], p[0]) : 0;
      case 2 -> encoded >= -p[2] / p[1] ? Math.pow(p[1] * encoded + p[2], p[0]) + p[3] : p[3];
      case 3 -> encoded >= p[4] ? Math.pow(p[1] * encoded + p[2], p[0]) : p[3] * encoded;
      default ->
          encoded >= p[4] ? Math.pow(p[1] * encoded + p[2], p[0]) + p[5] : p[3] * encoded + p[6];
    };
  }
}

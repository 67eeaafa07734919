package org.scenespan.folder;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.ByteArrayOutputStream;
import java.util.Arrays;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;
import org.scenespan.frame.ColourSpace;
import org.scenespan.frame.FrameReading;
import org.scenespan.frame.ToneResponse;

class IccProfileTest {
  /** sRGB's colorants adapted to D50, as in the ICC's own sRGB profile [memory]. */
  static final double[] BT709 = {
    0.43607, 0.22249, 0.01392, 0.38515, 0.71687, 0.09708, 0.14307, 0.06061, 0.7141
  };

  /** Adobe RGB (1998) Color Image Encoding: its profile's colorants [memory]. */
  static final double[] ADOBE = {
    0.60974, 0.31111, 0.01947, 0.20528, 0.62567, 0.06087, 0.14919, 0.06322, 0.74457
  };

  static final double[] P3 = {
    0.51512, 0.2412, -0.00105, 0.29198, 0.69225, 0.04189, 0.1571, 0.06657, 0.78407
  };

  static final double[] WIDE = {0.7977, 0.288, 0, 0.1352, 0.7119, 0, 0.0313, 0.0001, 0.8249};

  static Stream<Arguments> profiles() {
    byte[] curve = ProfileBytes.srgbCurve();
    byte[] table = ProfileBytes.sampled(1024, ToneResponse::srgbToLinear);
    byte[] adobe = ProfileBytes.power(563.0 / 256);
    return Stream.of(
        Arguments.of("srgb", ProfileBytes.profile(curve, BT709)),
        Arguments.of("srgb", ProfileBytes.profile(table, BT709)),
        Arguments.of("linear", ProfileBytes.profile(ProfileBytes.power(1), BT709)),
        Arguments.of("adobe-rgb", ProfileBytes.profile(adobe, ADOBE)),
        Arguments.of("display-p3", ProfileBytes.profile(curve, P3)),
        Arguments.of("display-p3", ProfileBytes.profile(table, P3)),
        Arguments.of("none", ProfileBytes.profile(ProfileBytes.power(1.8), BT709)),
        Arguments.of("none", ProfileBytes.profile(adobe, BT709)),
        Arguments.of("none", ProfileBytes.profile(curve, ADOBE)),
        Arguments.of("none", ProfileBytes.profile(ProfileBytes.power(1.8), WIDE)),
        Arguments.of("srgb", ProfileBytes.profile(curve)),
        Arguments.of("grey-gamma-2.2", ProfileBytes.profile(ProfileBytes.power(2.2))),
        Arguments.of("none", new byte[200]),
        Arguments.of("none", new byte[0]));
  }

  @ParameterizedTest
  @MethodSource("profiles")
  void knownByTheirNumbers(String label, byte[] profile) {
    assertEquals(label, IccProfile.recognised(profile).map(ColourSpace::label).orElse("none"));
  }

  @Test
  void aCutProfileIsNoneThatIsKnown() {
    byte[] profile = ProfileBytes.profile(ProfileBytes.srgbCurve(), P3);
    for (int length = 0; length < profile.length; length++) {
      assertEquals(Optional.empty(), IccProfile.recognised(Arrays.copyOf(profile, length)));
    }
  }

  /** A JPEG with its profile in two parts that stand in the wrong order. */
  private static byte[] jpeg(byte[] profile) {
    byte[] jpeg = Pictures.jpeg(16, 16, 1);
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    out.write(jpeg, 0, 2);
    int half = profile.length / 2;
    for (int part = 2; part >= 1; part--) {
      byte[] piece =
          part == 1
              ? Arrays.copyOf(profile, half)
              : Arrays.copyOfRange(profile, half, profile.length);
      int length = piece.length + 16;
      out.writeBytes(new byte[] {(byte) 0xff, (byte) 0xe2, (byte) (length >> 8), (byte) length});
      out.writeBytes("ICC_PROFILE\0".getBytes(java.nio.charset.StandardCharsets.US_ASCII));
      out.write(part);
      out.write(2);
      out.writeBytes(piece);
    }
    out.write(jpeg, 2, jpeg.length - 2);
    return out.toByteArray();
  }

  @Test
  void aJpegsProfileSetsResponseAndWeights() throws Exception {
    FrameReading plain = PngPictureTest.read(Pictures.jpeg(16, 16, 1));
    FrameReading adobe =
        PngPictureTest.read(jpeg(ProfileBytes.profile(ProfileBytes.power(563.0 / 256), ADOBE)));
    FrameReading unknown =
        PngPictureTest.read(jpeg(ProfileBytes.profile(ProfileBytes.power(1.8), WIDE)));
    assertEquals("srgb", plain.colour());
    assertEquals("adobe-rgb", adobe.colour());
    assertEquals("assumed-srgb", unknown.colour());
    assertEquals(1, unknown.notes().size());
    assertEquals(plain.measure(), unknown.measure());
    assertEquals(plain.measure().clipped(), adobe.measure().clipped());
    assertEquals(false, plain.measure().luminance().equals(adobe.measure().luminance()));
  }

  @Test
  void exifNamesAdobeRgb() throws Exception {
    TiffBytes top = new TiffBytes(java.nio.ByteOrder.BIG_ENDIAN);
    TiffBytes exif = top.inner().shorts(40961, 65535).directory(40965, top.inner().text(1, "R03"));
    byte[] optional =
        Pictures.withExif(Pictures.jpeg(16, 16, 1), top.directory(34665, exif).file());
    assertEquals("adobe-rgb", PngPictureTest.read(optional).colour());
    exif.directory(40965, top.inner().text(1, "R98"));
    byte[] other = Pictures.withExif(Pictures.jpeg(16, 16, 1), top.file());
    assertEquals("assumed-srgb", PngPictureTest.read(other).colour());
    exif.shorts(40961, 1);
    assertEquals(
        "srgb",
        PngPictureTest.read(Pictures.withExif(Pictures.jpeg(16, 16, 1), top.file())).colour());
  }

  @Test
  void aTiffsAndAPngsProfile() throws Exception {
    byte[] profile = ProfileBytes.profile(ProfileBytes.srgbCurve(), P3);
    int[] values = new int[profile.length];
    Arrays.setAll(values, i -> profile[i]);
    byte[] tiff = TiffPictureTest.rgb(8, false).bytes(34675, values).file();
    assertEquals("display-p3", PngPictureTest.read(tiff).colour());
    ByteArrayOutputStream chunk = new ByteArrayOutputStream();
    chunk.writeBytes(new byte[] {'x', 0, 0});
    chunk.writeBytes(PngPictureTest.deflated(profile));
    byte[] png = PngPictureTest.ramp("iCCP", chunk.toByteArray());
    assertEquals("display-p3", PngPictureTest.read(png).colour());
  }
}

package org.scenespan.folder;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.function.UnaryOperator;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;
import org.scenespan.frame.FrameMeasure;
import org.scenespan.frame.FrameReading;
import org.scenespan.frame.FrameSource;

class TiffPictureTest {
  /** Four pixels in two rows: black, half, red only, white. */
  static TiffBytes rgb(int bits, boolean real) {
    double[] values = {0, 0, 0, 0.5, 0.5, 0.5, 1, 0, 0, 1, 1, 1};
    ByteBuffer data = ByteBuffer.allocate(values.length * bits / 8);
    for (double value : values) {
      if (real) {
        data.putFloat((float) value);
      } else if (bits == 8) {
        data.put((byte) Math.round(value * 255));
      } else {
        data.putShort((short) Math.round(value * 65535));
      }
    }
    return new TiffBytes(ByteOrder.BIG_ENDIAN)
        .longs(256, 2)
        .longs(257, 2)
        .shorts(258, bits, bits, bits)
        .shorts(259, 1)
        .shorts(262, 2)
        .data(273, data.array())
        .shorts(277, 3)
        .longs(278, 2)
        .longs(279, data.capacity())
        .shorts(339, real ? 3 : 1);
  }

  private static FrameReading read(TiffBytes tiff) throws Exception {
    return PngPictureTest.read(tiff.file());
  }

  @Test
  void wholeNumbersAreSrgbAndFloatsAreLight() throws Exception {
    for (int bits : new int[] {8, 16, 32}) {
      FrameReading reading = read(rgb(bits, bits == 32));
      FrameMeasure measure = reading.measure();
      assertEquals("tiff", reading.format());
      assertEquals(bits == 32 ? "linear" : "srgb", reading.colour());
      assertEquals(FrameSource.FULL, measure.source());
      assertEquals(2, measure.clipped().red());
      assertEquals(1, measure.clipped().green());
      assertEquals(2, measure.clipped().combined());
      assertEquals(1, measure.crushed().red());
      assertEquals(2, measure.crushed().blue());
      assertEquals(1, measure.crushed().combined());
      // Half as a float is one stop below saturation; encoded it is 0.2140 of light, 2.22 below.
      int bin = bits == 32 ? 90 : (int) Math.floor((16 - 2.224) * 6);
      assertEquals(1, measure.green().count(bin), bits + " bits");
    }
  }

  @Test
  void floatsBeyondSaturationAreClippedAndNoNumberIsDark() throws Exception {
    ByteBuffer data = ByteBuffer.allocate(24);
    for (float value : new float[] {7, Float.NaN, -3, Float.POSITIVE_INFINITY, 0.25f, 1}) {
      data.putFloat(value);
    }
    FrameMeasure measure =
        read(rgb(32, true)
                .longs(256, 6)
                .longs(257, 1)
                .shorts(258, 32)
                .shorts(277, 1)
                .shorts(262, 1)
                .data(273, data.array())
                .longs(279, 24))
            .measure();
    assertEquals(3, measure.clipped().combined());
    assertEquals(2, measure.crushed().combined());
    assertTrue(measure.sharpness() > 0);
  }

  @Test
  void whiteIsZeroAndPalette() throws Exception {
    TiffBytes grey = rgb(8, false).shorts(258, 8).shorts(277, 1).longs(256, 6);
    assertEquals(4, read(grey.shorts(262, 1)).measure().clipped().combined());
    assertEquals(4, read(grey.shorts(262, 0)).measure().crushed().combined());
    int[] map = new int[768];
    map[255] = 65535;
    map[256 + 255] = 65535;
    FrameMeasure palette = read(grey.shorts(262, 3).shorts(320, map)).measure();
    assertEquals(4, palette.clipped().red());
    assertEquals(4, palette.clipped().green());
    assertEquals(0, palette.clipped().blue());
  }

  static Stream<Arguments> refused() {
    return Stream.of(
        refused("inks", tiff -> tiff.shorts(262, 5)),
        refused("YCbCr", tiff -> tiff.shorts(262, 6)),
        refused("L*a*b*", tiff -> tiff.shorts(262, 8)),
        refused("what its samples mean", tiff -> tiff.without(262)),
        refused("different bits", tiff -> tiff.shorts(258, 8, 8, 4)),
        refused("33 bits", tiff -> tiff.shorts(258, 33, 33, 33)),
        refused("compressed (kind 2)", tiff -> tiff.shorts(259, 2)),
        refused("a JPEG within a TIFF", tiff -> tiff.shorts(259, 6)),
        refused("not begin with a start mark", tiff -> tiff.shorts(259, 7)),
        refused("predictor 3", tiff -> tiff.shorts(259, 5).shorts(317, 3)),
        refused("LZW", tiff -> tiff.shorts(259, 5)),
        refused("ends too early", tiff -> tiff.shorts(259, 32773)),
        refused("deflated", tiff -> tiff.shorts(259, 8)),
        refused("signed", tiff -> tiff.shorts(339, 2)),
        refused("shorter than its rows", tiff -> tiff.longs(257, 3).longs(278, 3)),
        refused("megapixels", tiff -> tiff.longs(256, 100_000).longs(257, 100_000)),
        refused(
            "megapixels",
            tiff -> tiff.longs(324, 8).longs(325, 8).longs(322, 1 << 20).longs(323, 1 << 20)),
        refused("no columns", tiff -> tiff.longs(324, 8).longs(325, 8).longs(322, 0)),
        refused("beyond the end", tiff -> tiff.longs(273, 1_000_000)),
        refused("samples to a pixel", tiff -> tiff.shorts(277, 200)),
        refused(
            "palette has 3 values",
            tiff -> tiff.shorts(258, 8).shorts(277, 1).shorts(262, 3).shorts(320, 1, 2, 3)));
  }

  private static Arguments refused(String why, UnaryOperator<TiffBytes> change) {
    return Arguments.of(why, change);
  }

  @ParameterizedTest
  @MethodSource("refused")
  void saysWhatIsNotRead(String why, UnaryOperator<TiffBytes> change) {
    byte[] tiff = change.apply(rgb(8, false)).file();
    String reason =
        assertThrows(UnreadableFrame.class, () -> PngPictureTest.read(tiff)).getMessage();
    assertTrue(reason.contains(why), reason);
  }

  @Test
  void everyCutIsRefused() {
    byte[] tiff = rgb(16, false).file();
    for (int length = 0; length < tiff.length; length++) {
      byte[] cut = Arrays.copyOf(tiff, length);
      assertThrows(UnreadableFrame.class, () -> PngPictureTest.read(cut), length + " bytes");
    }
  }

  /** Every depth of the shared pictures gives the picture, or the reason why not. */
  @Test
  void everyDepth() throws Exception {
    Map<String, Integer> answers = new TreeMap<>();
    for (Path file : SharedFiles.filesBelow(SharedFiles.folder("valid/tiff-depth"))) {
      if (!file.toString().endsWith(".tif")) {
        continue;
      }
      String answer;
      try {
        FrameMeasure measure = new FrameReader().read(file).measure();
        assertEquals(73 * 43, measure.luminance().total(), file.toString());
        answer = "read";
      } catch (UnreadableFrame e) {
        answer = e.getMessage();
      }
      answers.merge(answer, 1, Integer::sum);
    }
    assertEquals(Map.of("read", 32, "its samples are inks (CMYK), not light", 4), answers);
  }

  @Test
  void theLargestEmbeddedJpegStandsInForRawDataThatIsNotRead() throws Exception {
    byte[] small = Pictures.jpeg(40, 30, 1);
    byte[] large = Pictures.jpeg(160, 120, 2);
    for (boolean strip : new boolean[] {false, true}) {
      TiffBytes top = new TiffBytes(ByteOrder.LITTLE_ENDIAN);
      TiffBytes preview = top.inner();
      if (strip) {
        preview.shorts(259, 6).data(273, large).longs(279, large.length);
      } else {
        preview.data(513, large).longs(514, large.length);
      }
      TiffBytes raw =
          Pictures.dng(ByteOrder.LITTLE_ENDIAN, Pictures.sites(8, 8, 4095, 1)).shorts(259, 34713);
      byte[] file =
          top.longs(254, 1)
              .data(513, small)
              .longs(514, small.length)
              .shorts(274, 6)
              .rationals(33434, 1, 125)
              .directory(330, raw)
              .directory(34665, preview)
              .file();
      FrameReading reading = PngPictureTest.read(file);
      assertEquals(FrameSource.EMBEDDED_PREVIEW, reading.measure().source());
      assertEquals("raw", reading.format());
      assertEquals(160, reading.measure().width());
      assertEquals(6, reading.metadata().orientation());
      assertEquals(
          List.of("Its embedded JPEG was measured, since its raw data is compressed (kind 34713)."),
          reading.notes());
      assertEquals(PngPictureTest.read(large).measure().luminance(), reading.measure().luminance());
    }
  }

  @Test
  void aRadiancePicturesBrightestValueIsJustNotClipped() throws Exception {
    byte[] hdr =
        "#?RADIANCE\nFORMAT=32-bit_rle_rgbe\n\n-Y 1 +X 2\n"
            .getBytes(java.nio.charset.StandardCharsets.US_ASCII);
    byte[] file = Arrays.copyOf(hdr, hdr.length + 8);
    // Twice as bright by the exponent alone.
    byte[] codes = {
      (byte) 128, (byte) 128, (byte) 128, (byte) 140, (byte) 128, (byte) 128, (byte) 128, (byte) 139
    };
    System.arraycopy(codes, 0, file, hdr.length, 8);
    FrameReading reading = PngPictureTest.read(file);
    assertEquals("radiance", reading.format());
    assertEquals(0, reading.measure().clipped().combined());
    assertEquals(1, reading.measure().luminance().count(95));
    assertEquals(1, reading.measure().luminance().count(89));
    assertEquals(1, reading.notes().size());
  }
}

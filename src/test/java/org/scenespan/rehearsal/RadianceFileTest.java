package org.scenespan.rehearsal;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.google.common.jimfs.Configuration;
import com.google.common.jimfs.Jimfs;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.scenespan.frame.Radiance;
import org.scenespan.light.Ev;

class RadianceFileTest {
  private static final String HEAD = "#?RADIANCE\nFORMAT=32-bit_rle_rgbe\n\n";

  private static Path file(byte[] bytes) {
    try {
      Path path = Jimfs.newFileSystem(Configuration.unix()).getPath("scene.hdr");
      return Files.write(path, bytes);
    } catch (IOException e) {
      throw new AssertionError(e);
    }
  }

  private static Radiance read(String head, int... codes) {
    return RadianceFile.read(file(bytes(head, codes)));
  }

  private static byte[] bytes(String head, int... codes) {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    out.writeBytes(head.getBytes(StandardCharsets.ISO_8859_1));
    for (int code : codes) {
      out.write(code);
    }
    return out.toByteArray();
  }

  private static void fails(String message, Path file) {
    var error = assertThrows(IllegalArgumentException.class, () -> Scene.load(file, new Ev(12)));
    assertTrue(error.getMessage().contains(message), error.getMessage());
    assertFalse(error.getMessage().contains("\n"), error.getMessage());
  }

  /** 128 + ½ of 256, times 2^(129 − 128): (m + ½)/256 · 2^(e − 128), as Radiance's own reader. */
  @Test
  void mantissasAndExponentGiveTheLight() {
    Radiance one = read(HEAD + "-Y 1 +X 1\n", 128, 64, 0, 129);
    assertArrayEquals(new float[] {1.00390625f, 0.50390625f, 0.00390625f}, one.row(0));
    assertArrayEquals(new float[3], read(HEAD + "-Y 1 +X 1\n", 9, 9, 9, 0).row(0));
  }

  @ParameterizedTest
  @CsvSource({
    "EXPOSURE=2, 0.5, 0.5",
    "EXPOSURE=2|EXPOSURE=4, 0.125, 0.125",
    "EXPOSURE= 0.5, 2, 2",
    "COLORCORR=1 1 4, 1, 0.25",
    "GAMMA=1|# a note|PRIMARIES=0 0, 1, 1"
  })
  void whatThePixelsWereMultipliedWithIsUndone(String lines, double red, double blue) {
    String head = "#?RGBE\n" + lines.replace('|', '\n') + "\n\n-Y 1 +X 1\n";
    float[] row = read(head, 128, 128, 128, 129).row(0);
    assertEquals(1.00390625 * red, row[0], 1e-6);
    assertEquals(1.00390625 * blue, row[2], 1e-6);
  }

  @Test
  void xyzBecomesNeutralForTheWhiteOfD65() {
    // D65: X 0.9505, Y 1, Z 1.0890 (IEC 61966-2-1), in mantissas of exponent 129.
    String head = "#?RADIANCE\nFORMAT=32-bit_rle_xyze\n\n-Y 1 +X 1\n";
    float[] row = read(head, 121, 128, 139, 129).row(0);
    // Half a mantissa's step, 1/256, times the sum of the matrix's row: 0.02.
    assertEquals(1, row[0], 0.021);
    assertEquals(1, row[1], 0.021);
    assertEquals(1, row[2], 0.021);
  }

  /** Six pixels 1…6 as scanlines of each orientation; read from the top left, 1 2 3 / 4 5 6. */
  @ParameterizedTest
  @CsvSource({
    "-Y 2 +X 3, 123456",
    "-Y 2 -X 3, 321654",
    "+Y 2 +X 3, 456123",
    "+Y 2 -X 3, 654321",
    "+X 3 -Y 2, 142536",
    "+X 3 +Y 2, 415263",
    "-X 3 -Y 2, 362514",
    "-X 3 +Y 2, 635241"
  })
  void everyOrientationEndsUpright(String size, String order) {
    int[] codes = new int[24];
    for (int i = 0; i < 6; i++) {
      Arrays.fill(codes, 4 * i, 4 * i + 3, 10 * (order.charAt(i) - '0'));
      codes[4 * i + 3] = 136;
    }
    Radiance upright = read(HEAD + size + "\n", codes);
    assertEquals(3, upright.width());
    assertEquals(2, upright.height());
    for (int i = 0; i < 6; i++) {
      assertEquals(10 * (i + 1) + 0.5, upright.row(i / 3)[3 * (i % 3)], 1e-6, "pixel " + i);
    }
  }

  @Test
  void bothKindsOfRunsGiveTheFlatPixels() {
    int[] flat = new int[40];
    for (int i = 0; i < 10; i++) {
      System.arraycopy(
          i < 8 ? new int[] {5, 6, 7, 136} : new int[] {8, 9, 9, 136}, 0, flat, 4 * i, 4);
    }
    float[] expected = read(HEAD + "-Y 1 +X 10\n", flat).row(0);
    int[] old = {5, 6, 7, 136, 1, 1, 1, 7, 8, 9, 9, 136, 8, 9, 9, 136};
    assertArrayEquals(expected, read(HEAD + "-Y 1 +X 10\n", old).row(0));
    int[] runs = {
      2, 2, 0, 10, 136, 5, 2, 8, 8, 136, 6, 130, 9, 8, 7, 7, 7, 7, 7, 7, 7, 7, 130, 9, 138, 136
    };
    assertArrayEquals(expected, read(HEAD + "-Y 1 +X 10\n", runs).row(0));
  }

  @Test
  void longOldRunsGoOnInTheNextByte() {
    // 1 + 4 + 256: the second count is shifted by eight bits.
    int[] codes = {5, 6, 7, 136, 1, 1, 1, 4, 1, 1, 1, 1};
    float[] row = read(HEAD + "-Y 1 +X 261\n", codes).row(0);
    assertEquals(5.5, row[3 * 260], 1e-6);
  }

  @ParameterizedTest
  @CsvSource({
    "'', begin",
    "'P6 1 1', begin",
    "'#?RADIANCE|FORMAT=32-bit_rle_rgbe', cut short",
    "'#?RADIANCE|FORMAT=24-bit||-Y 1 +X 1|', format",
    "'#?RADIANCE|EXPOSURE=nan||-Y 1 +X 1|', exposure",
    "'#?RADIANCE|EXPOSURE=0||-Y 1 +X 1|', exposure",
    "'#?RADIANCE|EXPOSURE=-1||-Y 1 +X 1|', exposure",
    "'#?RADIANCE|EXPOSURE=||-Y 1 +X 1|', exposure",
    "'#?RADIANCE|COLORCORR=1 2||-Y 1 +X 1|', exposure",
    "'#?RADIANCE||1 1|', size",
    "'#?RADIANCE||-Y 1 +Y 1|', size",
    "'#?RADIANCE||-Y 0 +X 1|', size",
    "'#?RADIANCE||-Y 999999999 +X 999999999|', size",
    "'#?RADIANCE||-Y 8001 +X 8000|', size",
    "'#?RADIANCE||-Y 1 +X 65536|', size",
    "'#?RADIANCE||-Y 65536 +X 1|', size",
    "'#?RADIANCE||-Y 8000 +X 8000|', cut short",
    "'#?RADIANCE||-Y 1 +X 1|abc', cut short",
    "'#?RADIANCE||-Y 1 +X 2|\u0001\u0001\u0001\u0001', run",
    "'#?RADIANCE||-Y 1 +X 2|aaaa\u0001\u0001\u0001\u0005', run",
    "'#?RADIANCE||-Y 1 +X 9|\u0002\u0002\u0000\u0008', row",
    "'#?RADIANCE||-Y 1 +X 9|\u0002\u0002\u0000\u0009\u00ffa', run",
    "'#?RADIANCE||-Y 1 +X 9|\u0002\u0002\u0000\u0009\u0000', run",
    "'#?RADIANCE||-Y 1 +X 1|aaa\u0000', no light"
  })
  void whatIsNoSceneIsToldInOneLine(String text, String message) {
    fails(message, file(text.replace('|', '\n').getBytes(StandardCharsets.ISO_8859_1)));
  }

  @Test
  void missingFileAndFolderAreToldInOneLine() {
    fails("no scene file", Path.of("no-such-scene.hdr"));
    fails("", Path.of("."));
  }

  @Test
  void endlessHeaderIsRefused() {
    fails(
        "header", file(("#?RADIANCE\n" + "x".repeat(100_000)).getBytes(StandardCharsets.US_ASCII)));
  }

  @Test
  void everyCutOfAFileIsRefused() {
    byte[] whole =
        bytes(
            HEAD + "-Y 1 +X 10\n",
            2,
            2,
            0,
            10,
            138,
            5,
            138,
            6,
            130,
            9,
            8,
            7,
            7,
            7,
            7,
            7,
            7,
            7,
            7,
            138,
            136);
    assertEquals(10, RadianceFile.read(file(whole)).width());
    for (int length = 0; length < whole.length; length++) {
      fails("", file(Arrays.copyOf(whole, length)));
    }
  }
}

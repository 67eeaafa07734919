package org.scenespan.folder;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.scenespan.Needs;

/** Pixels against libjpeg-turbo's own program, which shares nothing with the JDK's reader. */
class DjpegIT {
  @TempDir Path folder;

  @ParameterizedTest
  @CsvSource({
    "333, 41, grey, 0",
    "1029, 65, 1x1, 0",
    "1301, 801, 2x1, 0",
    "1301, 801, 2x2, 0",
    "700, 333, 2x2, 9"
  })
  void codedPicturesAreEqual(int width, int height, String sampling, int restart) throws Exception {
    byte[] jpeg = CodedJpeg.write(width, height, sampling, restart, 0.6, width);
    compare(Files.write(folder.resolve("a.jpg"), jpeg));
  }

  /** 4:4:0 as a camera held upright writes it, and 4:1:1: both by the plain path. */
  @ParameterizedTest
  @CsvSource({"333, 65, 1x2, 0", "640, 480, 1x2, 7", "8, 5, 1x2, 0", "333, 65, 4x1, 0"})
  void samplingsThatAreRareAreEqual(int width, int height, String sampling, int restart)
      throws Exception {
    byte[] jpeg = CodedJpeg.write(width, height, sampling, restart, 0.6, width);
    compare(Files.write(folder.resolve("a.jpg"), jpeg));
  }

  @Test
  void photographsAreEqual() throws Exception {
    Needs.tool("codec", "djpeg");
    int compared = 0;
    for (Path photograph : SharedFiles.filesBelow(SharedFiles.folder("photos"))) {
      if (photograph.toString().endsWith(".jpg")) {
        compare(photograph);
        compared++;
      }
    }
    assertTrue(compared > 30, compared + " photographs");
  }

  private void compare(Path file) throws Exception {
    Path djpeg = Needs.tool("codec", "djpeg");
    Path pixels = folder.resolve("pixels.ppm");
    Process process =
        new ProcessBuilder(
                djpeg.toString(), "-outfile", pixels.toString(), file.toAbsolutePath().toString())
            .redirectErrorStream(true)
            .start();
    process.getInputStream().readAllBytes();
    // 2 is a warning, of a byte too many before the end mark.
    assertTrue(process.waitFor() % 2 == 0, file::toString);
    Picture ours = new Picture();
    try (Bytes bytes = Bytes.open(file)) {
      new QuickJpegDecoder().decode(JpegFile.read(bytes), ours);
    }
    assertArrayEquals(rgb(pixels, ours.width(), ours.height()), ours.rgb(), file::toString);
  }

  /** Netpbm's binary forms P5 and P6 of 8 bits: three numbers in text, then the samples. */
  private static byte[] rgb(Path file, int width, int height) throws IOException {
    byte[] bytes = Files.readAllBytes(file);
    int samples = bytes[1] == '5' ? 1 : 3;
    int start = bytes.length - width * height * samples;
    String header =
        new String(Arrays.copyOf(bytes, start), java.nio.charset.StandardCharsets.US_ASCII);
    int[] numbers =
        Stream.of(header.substring(2).strip().split("\\s+")).mapToInt(Integer::parseInt).toArray();
    assertArrayEquals(new int[] {width, height, 255}, numbers);
    byte[] rgb = new byte[width * height * 3];
    for (int i = 0; i < rgb.length; i++) {
      rgb[i] = bytes[start + (samples == 3 ? i : i / 3)];
    }
    assertEquals(width * height * 3, rgb.length);
    return rgb;
  }
}

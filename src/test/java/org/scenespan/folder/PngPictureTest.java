package org.scenespan.folder;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.google.common.jimfs.Configuration;
import com.google.common.jimfs.Jimfs;
import java.awt.image.BufferedImage;
import java.awt.image.IndexColorModel;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileSystem;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.zip.CRC32;
import java.util.zip.Deflater;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.scenespan.frame.ColourSpace;
import org.scenespan.frame.FrameReading;

class PngPictureTest {
  static FrameReading read(byte[] png) throws IOException, UnreadableFrame {
    try (FileSystem memory = Jimfs.newFileSystem(Configuration.unix())) {
      return new FrameReader().read(Files.write(memory.getPath("/a.png"), png));
    }
  }

  /** Every code of every file of PngSuite that is here, against the JDK's own reader. */
  @Test
  void everyCodeOfPngSuite() throws Exception {
    int checked = 0;
    for (Path file : SharedFiles.filesBelow(SharedFiles.folder("valid/png"))) {
      if (!file.toString().endsWith(".png")) {
        continue;
      }
      BufferedImage image = ImageIO.read(file.toFile());
      try (Bytes bytes = Bytes.open(file)) {
        PngPicture png = new PngPicture(bytes);
        int[] y = {0};
        // With the transfer of 1 the light of a code is its share of the highest code.
        png.rows(
            ColourSpace.LINEAR,
            light -> {
              for (int i = 0; i < light.length; i++) {
                int x = i / png.channels();
                double wanted = share(image, x, y[0], i % png.channels());
                assertEquals(wanted, light[i], 1e-12, file + " at " + x + ", " + y[0]);
              }
              y[0]++;
            });
        assertEquals(image.getHeight(), y[0]);
        assertEquals(image.getWidth(), png.width());
      }
      assertEquals("png", read(Files.readAllBytes(file)).format());
      checked++;
    }
    assertTrue(checked > 50, checked + " files");
  }

  private static double share(BufferedImage image, int x, int y, int channel) {
    if (image.getColorModel() instanceof IndexColorModel palette) {
      int index = image.getRaster().getSample(x, y, 0);
      int[] colour = {palette.getRed(index), palette.getGreen(index), palette.getBlue(index)};
      return colour[channel] / 255.0;
    }
    int most = (1 << image.getSampleModel().getSampleSize(0)) - 1;
    return (double) image.getRaster().getSample(x, y, channel) / most;
  }

  /** A grey ramp of 256 codes with further chunks before its data. */
  static byte[] ramp(Object... chunks) {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    out.writeBytes(new byte[] {(byte) 0x89, 'P', 'N', 'G', 13, 10, 26, 10});
    chunk(out, "IHDR", ByteBuffer.allocate(13).putInt(256).putInt(1).put((byte) 8).array());
    for (int i = 0; i < chunks.length; i += 2) {
      chunk(out, (String) chunks[i], (byte[]) chunks[i + 1]);
    }
    byte[] row = new byte[257];
    for (int i = 0; i < 256; i++) {
      row[i + 1] = (byte) i;
    }
    chunk(out, "IDAT", deflated(row));
    chunk(out, "IEND", new byte[0]);
    return out.toByteArray();
  }

  static byte[] deflated(byte[] data) {
    Deflater deflater = new Deflater();
    deflater.setInput(data);
    deflater.finish();
    byte[] packed = new byte[data.length + 100];
    int length = deflater.deflate(packed);
    deflater.end();
    return Arrays.copyOf(packed, length);
  }

  private static void chunk(ByteArrayOutputStream out, String name, byte[] content) {
    byte[] type = name.getBytes(StandardCharsets.US_ASCII);
    CRC32 sum = new CRC32();
    sum.update(type);
    sum.update(content);
    out.writeBytes(ByteBuffer.allocate(4).putInt(content.length).array());
    out.writeBytes(type);
    out.writeBytes(content);
    out.writeBytes(ByteBuffer.allocate(4).putInt((int) sum.getValue()).array());
  }

  private static byte[] gamma(int value) {
    return ByteBuffer.allocate(4).putInt(value).array();
  }

  @ParameterizedTest
  @CsvSource({
    "none, srgb, 0", "gAMA, srgb, 45455", "gAMA, linear, 100000", "gAMA, gamma, 55556",
    "gAMA, assumed-srgb, 1", "sRGB, srgb, 100000", "cICP, display-p3, 12", "cICP, srgb, 1",
    "cICP, assumed-srgb, 9"
  })
  void coloursAreHandledOrNamed(String chunk, String label, int value) throws Exception {
    byte[] png =
        switch (chunk) {
          case "none" -> ramp();
          case "gAMA" -> ramp("gAMA", gamma(value));
          case "sRGB" -> ramp("gAMA", gamma(value), "sRGB", new byte[1]);
          default -> ramp("cICP", new byte[] {(byte) value, 13, 0, 1});
        };
    FrameReading reading = read(png);
    assertEquals(label, reading.colour());
    assertEquals(label.equals("assumed-srgb") ? 1 : 0, reading.notes().size());
    assertEquals(1, reading.measure().clipped().combined());
    assertEquals(1, reading.measure().crushed().combined());
  }

  /** gAMA 1/1.8: code 128 is (128/255)^1.8 = 0.2892 of saturation, −1.79 stops [computed]. */
  @Test
  void aGammaIsAPower() throws Exception {
    var measure = read(ramp("gAMA", gamma(55556))).measure();
    long below = 0;
    int edge = (int) Math.floor((Math.log(0.2892) / Math.log(2) + 16) * 6);
    for (int bin = 0; bin < edge; bin++) {
      below += measure.luminance().count(bin);
    }
    assertTrue(below <= 128 && below + measure.luminance().count(edge) > 128, below + " below");
  }

  @Test
  void everyCutAndEveryFlippedByteIsRefused() throws Exception {
    byte[] png = ramp("gAMA", gamma(45455));
    for (int length = 0; length < png.length; length++) {
      byte[] cut = Arrays.copyOf(png, length);
      assertThrows(UnreadableFrame.class, () -> read(cut), length + " bytes");
    }
    for (int i = 0; i < png.length; i++) {
      byte[] flipped = png.clone();
      flipped[i] ^= 0x10;
      assertThrows(UnreadableFrame.class, () -> read(flipped), "byte " + i);
    }
  }
}

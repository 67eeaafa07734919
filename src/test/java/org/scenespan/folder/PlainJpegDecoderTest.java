package org.scenespan.folder;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.awt.image.Raster;
import java.io.IOException;
import java.nio.file.Path;
import java.util.Iterator;
import java.util.List;
import javax.imageio.ImageIO;
import javax.imageio.ImageReader;
import javax.imageio.stream.ImageInputStream;
import org.junit.jupiter.api.Test;

class PlainJpegDecoderTest {
  /**
   * The rows are the file's own codes, whatever colour profile it has: what the reader gives before
   * any conversion of colours, converted here after ITU-T T.871, clause 7, in 16-bit fixed point.
   */
  @Test
  void rowsAreTheFilesOwnCodes() throws Exception {
    List<Path> photographs =
        SharedFiles.filesBelow(SharedFiles.folder("photos")).stream()
            .filter(file -> file.toString().endsWith(".jpg"))
            .toList();
    assertTrue(photographs.size() > 30);
    for (Path photograph : photographs) {
      Raster samples = samples(photograph);
      try (Bytes bytes = Bytes.open(photograph)) {
        Compared compared = new Compared(photograph.toString(), samples);
        new PlainJpegDecoder().decode(JpegFile.read(bytes), compared);
        assertEquals(samples.getHeight(), compared.rows, photograph::toString);
      }
    }
  }

  private static Raster samples(Path file) throws IOException {
    ImageReader reader = reader();
    try (ImageInputStream input = ImageIO.createImageInputStream(file.toFile())) {
      reader.setInput(input, true, true);
      return reader.readRaster(0, null);
    } finally {
      reader.dispose();
    }
  }

  private static ImageReader reader() {
    for (Iterator<ImageReader> all = ImageIO.getImageReadersByFormatName("jpeg"); all.hasNext(); ) {
      ImageReader reader = all.next();
      if (reader.getClass().getName().startsWith("com.sun.imageio")) {
        return reader;
      }
    }
    throw new IllegalStateException("no JPEG reader of the JDK");
  }

  private static final class Compared implements RowSink {
    private final String name;
    private final Raster samples;
    private int rows;

    Compared(String name, Raster samples) {
      this.name = name;
      this.samples = samples;
    }

    @Override
    public void begin(int width, int height, boolean grey) {
      assertEquals(samples.getWidth(), width, name);
      assertEquals(samples.getHeight(), height, name);
      assertEquals(samples.getNumBands() == 1, grey, name);
    }

    @Override
    public void row(byte[] row) {
      int[] ycc = samples.getPixels(0, rows, samples.getWidth(), 1, (int[]) null);
      byte[] expected = new byte[row.length];
      for (int i = 0; i < row.length; i += 3) {
        int y = ycc[i];
        int cb = ycc[i + 1] - 128;
        int cr = ycc[i + 2] - 128;
        expected[i] = clamped(y + (91881 * cr + 32768 >> 16));
        expected[i + 1] = clamped(y + (-22554 * cb - 46802 * cr + 32768 >> 16));
        expected[i + 2] = clamped(y + (116130 * cb + 32768 >> 16));
      }
      assertArrayEquals(expected, row, () -> name + ", row " + rows);
      rows++;
    }

    private static byte clamped(int value) {
      return (byte) Math.max(0, Math.min(255, value));
    }
  }
}

package org.scenespan.folder;

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
import org.scenespan.folder.jpeg.RowSink;
import org.scenespan.frame.PackedPixel;
import org.scenespan.frame.RowOrder;

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

  private static final class Compared implements RowSink, RowSink.Part {
    private final String name;
    private final Raster samples;
    private int rows;

    Compared(String name, Raster samples) {
      this.name = name;
      this.samples = samples;
    }

    @Override
    public void begin(int width, int height) {
      assertEquals(samples.getWidth(), width, name);
      assertEquals(samples.getHeight(), height, name);
      rows = 0;
    }

    @Override
    public Part part() {
      return this;
    }

    @Override
    public void above(int y, int[] packed) {
      throw new AssertionError("all rows come in their order");
    }

    @Override
    public void row(int row, int[] packed) {
      int width = samples.getWidth();
      RowOrder order = new RowOrder(width);
      int[] pixels = samples.getPixels(0, rows, width, 1, (int[]) null);
      boolean grey = samples.getNumBands() == 1;
      for (int x = 0; x < width; x++) {
        int at = order.placeOf(x);
        int y = pixels[grey ? x : 3 * x];
        int cb = grey ? 0 : pixels[3 * x + 1] - 128;
        int cr = grey ? 0 : pixels[3 * x + 2] - 128;
        String place = name + ", row " + row + ", column " + x;
        assertEquals(clamped(y + (91881 * cr + 32768 >> 16)), PackedPixel.red(packed[at]), place);
        int green16 = -22554 * cb - 46802 * cr + 32768;
        assertEquals(clamped(y + (green16 >> 16)), PackedPixel.green(packed[at]), place);
        assertEquals(clamped(y + (116130 * cb + 32768 >> 16)), PackedPixel.blue(packed[at]), place);
      }
      rows++;
    }

    private static int clamped(int value) {
      return Math.max(0, Math.min(255, value));
    }
  }
}

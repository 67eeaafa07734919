package org.scenespan.folder;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.awt.image.BufferedImage;
import java.util.Optional;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.scenespan.folder.jpeg.BaselineDecoder;
import org.scenespan.frame.CodeTone;
import org.scenespan.frame.FrameMeasure;
import org.scenespan.frame.FrameSource;
import org.scenespan.frame.PackedPixel;
import org.scenespan.frame.PixelMeter;

/** What is measured and drawn of a JPEG does not depend on who decodes it, to the last bit. */
class JpegRowsTest {
  private static FrameMeasure measured(Bytes bytes, JpegDecoder decoder, JpegRows rows)
      throws Exception {
    decoder.decode(JpegFile.read(bytes), rows);
    return rows.measure();
  }

  private static JpegDecoder quick(int threads, int readBytes) {
    return (file, sink) -> {
      int scan = (int) file.structure().firstScan();
      int end = (int) file.structure().end();
      BaselineDecoder decoder = new BaselineDecoder(threads, readBytes);
      assertEquals(
          Optional.empty(),
          decoder.decode(file.decoderHeader(), file.start(), scan, end, file::read, sink));
    };
  }

  private static JpegRows rows() {
    return new JpegRows(FrameSource.FULL, CodeTone.SRGB, true);
  }

  /** Widths with cells that divide a group of columns and that do not, and are wider than one. */
  @ParameterizedTest
  @CsvSource({
    "1, 1, grey, 0",
    "15, 33, 2x1, 0",
    "17, 40, 2x2, 0",
    "700, 500, grey, 0",
    "641, 479, 1x1, 0",
    "801, 601, 2x1, 0",
    "799, 603, 2x2, 3",
    "1601, 400, 2x1, 7",
    "4000, 67, 2x2, 0",
    "4801, 100, 1x1, 0",
    "6000, 77, 2x1, 0",
    "6015, 77, 2x1, 0",
    "9504, 40, 2x1, 0",
    "12801, 25, 2x2, 0",
    "27200, 24, 2x1, 0"
  })
  void isTheSameWhoeverDecodes(int width, int height, String sampling, int restart)
      throws Exception {
    byte[] jpeg = CodedJpeg.write(width, height, sampling, restart, 0.1, width + height);
    try (Bytes bytes = Bytes.of(new MemoryChannel(jpeg))) {
      JpegRows plainRows = rows();
      FrameMeasure plain = measured(bytes, new PlainJpegDecoder(), plainRows);
      Preview expected = preview(plainRows);
      assertEquals(byBytes(bytes), plain);
      checkDrawing(bytes, expected);
      for (int threads = 1; threads <= 3; threads++) {
        JpegRows rows = rows();
        assertEquals(plain, measured(bytes, quick(threads, 1 << 12), rows), threads + " threads");
        Preview got = preview(rows);
        checkEqual(expected.picture(), got.picture());
        checkEqual(expected.mask(), got.mask());
      }
    }
  }

  private static Preview preview(JpegRows rows) {
    return rows.preview(1).orElseThrow();
  }

  private static void checkEqual(BufferedImage expected, BufferedImage got) {
    assertArrayEquals(colours(expected), colours(got));
  }

  private static int[] colours(BufferedImage image) {
    return image.getRGB(0, 0, image.getWidth(), image.getHeight(), null, 0, image.getWidth());
  }

  /** The meter for rows of bytes counts the same. */
  private static FrameMeasure byBytes(Bytes bytes) throws Exception {
    Picture picture = picture(bytes);
    int width = picture.width();
    PixelMeter meter = new PixelMeter(width, picture.height(), FrameSource.FULL, CodeTone.SRGB);
    byte[] row = new byte[3 * width];
    for (int y = 0; y < picture.height(); y++) {
      System.arraycopy(picture.rgb(), y * row.length, row, 0, row.length);
      meter.colourRow(row, new byte[width]);
    }
    return meter.measure();
  }

  private static Picture picture(Bytes bytes) throws Exception {
    Picture picture = new Picture();
    new PlainJpegDecoder().decode(JpegFile.read(bytes), picture);
    return picture;
  }

  /** Drawn pixel by pixel from the decoded picture. */
  private static void checkDrawing(Bytes bytes, Preview expected) throws Exception {
    Picture picture = picture(bytes);
    int width = picture.width();
    PreviewPainter painter = new PreviewPainter(width, picture.height());
    byte[] row = new byte[3 * width];
    byte[] flags = new byte[width];
    for (int y = 0; y < picture.height(); y++) {
      System.arraycopy(picture.rgb(), y * row.length, row, 0, row.length);
      for (int x = 0; x < width; x++) {
        int pixel = PackedPixel.of(row[3 * x] & 255, row[3 * x + 1] & 255, row[3 * x + 2] & 255);
        flags[x] = PackedPixel.flags(pixel);
      }
      painter.row(row, 3, flags);
    }
    Preview drawn = painter.preview(1);
    checkEqual(drawn.picture(), expected.picture());
    checkEqual(drawn.mask(), expected.mask());
  }
}

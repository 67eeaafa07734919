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

  private static Picture picture(Bytes bytes) throws Exception {
    Picture picture = new Picture();
    new PlainJpegDecoder().decode(JpegFile.read(bytes), picture);
    return picture;
  }

  /** Drawn cell by cell from the decoded picture. */
  private static void checkDrawing(Bytes bytes, Preview drawn) throws Exception {
    Picture picture = picture(bytes);
    int longest = Math.max(picture.width(), picture.height());
    int cell = Math.max(1, (int) Math.ceil((double) longest / PreviewPainter.LONGEST));
    for (int y = 0; y < drawn.picture().getHeight(); y++) {
      for (int x = 0; x < drawn.picture().getWidth(); x++) {
        checkCell(picture, cell, x, y, drawn);
      }
    }
  }

  private static void checkCell(Picture picture, int cell, int column, int line, Preview drawn) {
    int[] sums = new int[3];
    int count = 0;
    int mask = 0;
    for (int y = cell * line; y < Math.min(picture.height(), cell * (line + 1)); y++) {
      for (int x = cell * column; x < Math.min(picture.width(), cell * (column + 1)); x++) {
        int at = 3 * (y * picture.width() + x);
        int most = 0;
        for (int c = 0; c < 3; c++) {
          int code = picture.rgb()[at + c] & 0xff;
          sums[c] += code;
          most = Math.max(most, code);
        }
        mask |= most == 255 ? PreviewPainter.CLIPPED_COLOUR : 0;
        mask |= most == 0 ? PreviewPainter.CRUSHED_COLOUR : 0;
        count++;
      }
    }
    int colour = 0xff << 24 | sums[0] / count << 16 | sums[1] / count << 8 | sums[2] / count;
    String place = "cell " + column + " of line " + line;
    assertEquals(colour, drawn.picture().getRGB(column, line), place);
    assertEquals(mask, drawn.mask().getRGB(column, line), place);
  }
}

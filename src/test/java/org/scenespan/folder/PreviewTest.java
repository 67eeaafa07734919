package org.scenespan.folder;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.google.common.jimfs.Configuration;
import com.google.common.jimfs.Jimfs;
import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.ByteOrder;
import java.nio.file.FileSystem;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.stream.Stream;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.scenespan.frame.ByteRows;
import org.scenespan.frame.FrameReading;
import org.scenespan.frame.PackedPixel;
import org.scenespan.frame.PixelFlags;
import org.scenespan.frame.RowOrder;

class PreviewTest {
  private FileSystem memory;
  private Path session;
  private PreviewStore store;

  @BeforeEach
  void openMemory() {
    memory = Jimfs.newFileSystem(Configuration.unix());
    session = memory.getPath("/session/previews");
    store = new PreviewStore(session);
  }

  @AfterEach
  void closeMemory() throws IOException {
    memory.close();
  }

  private BufferedImage image(String name) throws IOException {
    return ImageIO.read(new ByteArrayInputStream(Files.readAllBytes(session.resolve(name))));
  }

  /** One clipped and one crushed pixel among six megapixels. */
  @Test
  void aSinglePixelShowsInTheMask() {
    PreviewPainter painter = new PreviewPainter(3000, 2000);
    PreviewPainter.Part part = painter.part();
    RowOrder order = new RowOrder(3000);
    byte[] row = new byte[9000];
    Arrays.fill(row, (byte) 100);
    for (int y = 0; y < 2000; y++) {
      int[] pixels = ByteRows.packed(row, 3);
      if (y == 1001) {
        pixels[order.placeOf(1500)] = PackedPixel.of(100, 100, 100, PixelFlags.CLIPPED);
        pixels[order.placeOf(2999)] = PackedPixel.of(100, 100, 100, PixelFlags.CRUSHED);
      }
      part.row(y, pixels, true, group -> true);
    }
    part.end();
    Preview preview = painter.preview(1);
    assertEquals(1500, preview.picture().getWidth());
    assertEquals(1000, preview.picture().getHeight());
    assertEquals(PreviewPainter.CLIPPED_COLOUR, preview.mask().getRGB(750, 500));
    assertEquals(PreviewPainter.CRUSHED_COLOUR, preview.mask().getRGB(1499, 500));
    assertEquals(2, marked(preview.mask()));
    assertEquals(0xff646464, preview.picture().getRGB(750, 500));
    assertEquals(0xff646464, preview.picture().getRGB(1499, 999));
  }

  private static int marked(BufferedImage mask) {
    int marked = 0;
    for (int y = 0; y < mask.getHeight(); y++) {
      for (int x = 0; x < mask.getWidth(); x++) {
        marked += mask.getRGB(x, y) != 0 ? 1 : 0;
      }
    }
    return marked;
  }

  /** Where the stored top left and top right corner are seen (CIPA DC-008, Orientation). */
  @ParameterizedTest
  @CsvSource({
    "1, 0 0, 2 0", "2, 2 0, 0 0", "3, 2 1, 0 1", "4, 0 1, 2 1",
    "5, 0 0, 0 2", "6, 1 0, 1 2", "7, 1 2, 1 0", "8, 0 2, 0 0"
  })
  void standsUpright(int orientation, String topLeft, String topRight) {
    PreviewPainter painter = new PreviewPainter(3, 2);
    PreviewPainter.Part part = painter.part();
    part.row(0, ByteRows.packed(new byte[] {80, 0, 40}, 1), false, group -> true);
    part.row(1, ByteRows.packed(new byte[3], 1), false, group -> true);
    part.end();
    BufferedImage picture = painter.preview(orientation).picture();
    assertEquals(orientation < 5 ? 3 : 2, picture.getWidth());
    assertEquals(0xff505050, at(picture, topLeft));
    assertEquals(0xff282828, at(picture, topRight));
  }

  private static int at(BufferedImage picture, String place) {
    String[] parts = place.split(" ");
    return picture.getRGB(Integer.parseInt(parts[0]), Integer.parseInt(parts[1]));
  }

  @Test
  void aJpegLeavesItsPreviewAndMask() throws Exception {
    BufferedImage white = new BufferedImage(3200, 64, BufferedImage.TYPE_INT_RGB);
    for (int x = 0; x < 1600; x++) {
      for (int y = 0; y < 64; y++) {
        white.setRGB(x, y, 0xffffff);
      }
    }
    Path file = Files.write(memory.getPath("/IMG_1.JPG"), Pictures.encoded(white));
    FrameReading reading = new FrameReader().read(file, store);
    assertTrue(reading.measure().clippedShare().value() > 0.45);
    BufferedImage preview = image(PreviewStore.previewName("IMG_1.JPG"));
    BufferedImage mask = image(PreviewStore.maskName("IMG_1.JPG"));
    assertEquals(1600, preview.getWidth());
    assertEquals(32, preview.getHeight());
    assertEquals(PreviewPainter.CLIPPED_COLOUR, mask.getRGB(10, 10));
    assertEquals(PreviewPainter.CRUSHED_COLOUR, mask.getRGB(1590, 10));
    assertTrue((preview.getRGB(10, 10) & 0xff) > 250);
    try (Stream<Path> kept = Files.list(session)) {
      assertEquals(2, kept.count(), "no half file stays");
    }
  }

  @Test
  void aRawLeavesItsPreviewAtHalfItsSize() throws Exception {
    int[][] sites = new int[40][60];
    for (int[] row : sites) {
      Arrays.fill(row, 30, 60, 16383);
    }
    byte[] dng = Pictures.dng(ByteOrder.LITTLE_ENDIAN, sites).shorts(274, 6).file();
    new FrameReader().read(Files.write(memory.getPath("/a.dng"), dng), store);
    BufferedImage preview = image("preview-a.dng.jpg");
    BufferedImage mask = image("mask-a.dng.png");
    assertEquals(20, preview.getWidth());
    assertEquals(30, preview.getHeight());
    assertTrue((preview.getRGB(10, 2) & 0xff) < 8);
    assertTrue((preview.getRGB(10, 27) & 0xff) > 247);
    assertEquals(PreviewPainter.CRUSHED_COLOUR, mask.getRGB(10, 2));
    assertEquals(PreviewPainter.CLIPPED_COLOUR, mask.getRGB(10, 27));
  }

  @Test
  void aStoreThatCannotBeWrittenDoesNotCostTheFrame() throws Exception {
    Files.write(memory.getPath("/session"), new byte[1]);
    Path file = Files.write(memory.getPath("/a.jpg"), Pictures.jpeg(20, 10, 1));
    assertEquals(20, new FrameReader().read(file, store).measure().width());
    assertThrows(IOException.class, () -> image("preview-a.jpg.jpg"));
  }

  @ParameterizedTest
  @CsvSource({
    "IMG_1.JPG, preview-IMG_1.JPG.jpg",
    "a b.jpg, preview-a_20_b.jpg.jpg",
    "../../etc/x.jpg, preview-.._2f_.._2f_etc_2f_x.jpg.jpg",
    "Grüße.dng, preview-Gr_fc__df_e.dng.jpg"
  })
  void namesAreSafe(String frame, String preview) {
    assertEquals(preview, PreviewStore.previewName(frame));
    assertTrue(PreviewStore.maskName("x".repeat(4000)).length() < 255);
  }
}

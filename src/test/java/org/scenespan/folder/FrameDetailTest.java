package org.scenespan.folder;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.scenespan.frame.Patch;

class FrameDetailTest {
  @TempDir private Path folder;

  /** Black, with one white block in it. */
  private Path frame(int width, int height) throws IOException {
    BufferedImage image = new BufferedImage(width, height, BufferedImage.TYPE_INT_RGB);
    Graphics2D brush = image.createGraphics();
    brush.setColor(Color.WHITE);
    brush.fillRect(width / 2, height / 4, width / 8, height / 8);
    brush.dispose();
    Path file = folder.resolve("F.JPG");
    ImageIO.write(image, "jpeg", file.toFile());
    return file;
  }

  private static BufferedImage cut(Path file, Patch part) throws Exception {
    return ImageIO.read(new ByteArrayInputStream(FrameDetail.jpeg(file, part)));
  }

  @Test
  void cutsPixelForPixel() throws Exception {
    BufferedImage cut = cut(frame(3200, 1600), new Patch(0.5, 0.25, 0.125, 0.125));
    assertEquals(400, cut.getWidth());
    assertEquals(200, cut.getHeight());
    for (int[] corner : new int[][] {{2, 2}, {397, 2}, {2, 197}, {397, 197}}) {
      assertTrue((cut.getRGB(corner[0], corner[1]) & 0xff) > 239, "white to its edges");
    }
  }

  @Test
  void isNeverLargerThanItsBound() throws Exception {
    BufferedImage cut = cut(frame(4000, 2000), new Patch(0, 0, 1, 1));
    assertEquals(1334, cut.getWidth());
    assertEquals(667, cut.getHeight());
  }

  @ParameterizedTest
  @ValueSource(ints = {1, 2, 3, 4, 5, 6, 7, 8})
  void findsAPartOfTheUprightPictureInTheStoredOne(int orientation) {
    // Turned upright by the same code that turns previews, the stored part must come to lie there.
    int columns = 40;
    int lines = 20;
    boolean turned = orientation >= 5;
    double wide = turned ? lines : columns;
    double high = turned ? columns : lines;
    Patch upright = new Patch(4 / wide, 6 / high, 8 / wide, 2 / high);
    Patch stored = FrameDetail.stored(upright, orientation);
    int[] pixels = new int[columns * lines];
    int left = (int) Math.round(stored.left() * columns);
    int top = (int) Math.round(stored.top() * lines);
    for (int y = top; y < top + Math.round(stored.height() * lines); y++) {
      for (int x = left; x < left + Math.round(stored.width() * columns); x++) {
        pixels[y * columns + x] = 0xffffff;
      }
    }
    BufferedImage shown =
        Preview.upright(pixels, columns, lines, BufferedImage.TYPE_INT_RGB, orientation);
    for (int y = 0; y < shown.getHeight(); y++) {
      for (int x = 0; x < shown.getWidth(); x++) {
        boolean within = x >= 4 && x < 12 && y >= 6 && y < 8;
        assertEquals(within, (shown.getRGB(x, y) & 0xff) > 0, x + ", " + y);
      }
    }
  }

  @Test
  void whatIsNoFrameIsSaid() throws IOException {
    Path file = Files.write(folder.resolve("N.JPG"), new byte[] {1, 2, 3});
    assertThrows(UnreadableFrame.class, () -> FrameDetail.jpeg(file, new Patch(0, 0, 1, 1)));
  }
}

package org.scenespan.dashboard;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicInteger;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.Test;

class SmallPicturesTest {
  private static byte[] picture(int width, int height) throws IOException {
    BufferedImage image = new BufferedImage(width, height, BufferedImage.TYPE_INT_RGB);
    Graphics2D brush = image.createGraphics();
    brush.setColor(Color.WHITE);
    brush.fillRect(width / 2, 0, width, height);
    brush.dispose();
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    ImageIO.write(image, "jpeg", out);
    return out.toByteArray();
  }

  private static BufferedImage read(byte[] bytes) throws IOException {
    return ImageIO.read(new ByteArrayInputStream(bytes));
  }

  @Test
  void keepsTheShapeAndWhatIsInIt() throws IOException {
    byte[] whole = picture(1600, 1067);
    BufferedImage small =
        read(new SmallPictures(name -> Optional.of(whole)).named("a").orElseThrow());
    int side = Math.max(small.getWidth(), small.getHeight());
    assertTrue(
        side >= SmallPictures.LEAST_SIDE && side < 2 * SmallPictures.LEAST_SIDE, side + " px");
    assertEquals(1600.0 / 1067, (double) small.getWidth() / small.getHeight(), 0.02);
    assertTrue((small.getRGB(small.getWidth() / 4, 20) & 0xff) < 16, "the left is black");
    assertTrue((small.getRGB(small.getWidth() * 3 / 4, 20) & 0xff) > 239, "the right is white");
  }

  @Test
  void leavesASmallPictureItsSize() throws IOException {
    byte[] whole = picture(120, 80);
    BufferedImage small =
        read(new SmallPictures(name -> Optional.of(whole)).named("a").orElseThrow());
    assertEquals(120, small.getWidth());
  }

  @Test
  void whatIsNoPictureIsNone() {
    assertEquals(
        Optional.empty(), new SmallPictures(name -> Optional.of(new byte[] {1, 2})).named("a"));
    assertEquals(Optional.empty(), new SmallPictures(name -> Optional.empty()).named("a"));
  }

  @Test
  void cutsEachOnceAndKeepsNoMoreThanItsBound() throws IOException {
    byte[] whole = picture(200, 100);
    AtomicInteger asked = new AtomicInteger();
    SmallPictures small =
        new SmallPictures(
            name -> {
              asked.incrementAndGet();
              return Optional.of(whole);
            });
    small.named("0");
    small.named("0");
    assertEquals(1, asked.get());
    for (int i = 1; i <= SmallPictures.MOST_KEPT; i++) {
      small.named(Integer.toString(i));
    }
    small.named("0");
    assertEquals(SmallPictures.MOST_KEPT + 2, asked.get(), "the oldest made room");
  }
}

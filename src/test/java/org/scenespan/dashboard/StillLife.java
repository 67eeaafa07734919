package org.scenespan.dashboard;

import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.image.BufferedImage;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.Random;
import javax.imageio.ImageIO;
import org.scenespan.frame.ToneResponse;

/** A studio's table with a grey card on it, photographed by flash into a hot folder. */
final class StillLife {
  static final int WIDTH = 1200;
  static final int HEIGHT = 800;

  /** Where the card stands, in parts of the picture. */
  static final double CARD_LEFT = 0.42;

  static final double CARD_TOP = 0.40;
  static final double CARD_RIGHT = 0.55;
  static final double CARD_LOWER = 0.55;

  private final Path folder;
  private final Random noise = new Random(11);

  StillLife(Path folder) {
    this.folder = folder;
  }

  /**
   * One press of the release; the file appears whole.
   *
   * @param stops of light against the first frame
   * @param dark the part of the frame from below that the flash did not reach
   */
  void shoot(String name, double stops, double dark) throws IOException {
    BufferedImage picture = new BufferedImage(WIDTH, HEIGHT, BufferedImage.TYPE_INT_RGB);
    Graphics2D brush = picture.createGraphics();
    Random still = new Random(2);
    for (int i = 0; i < 60; i++) {
      brush.setColor(new Color(90 + still.nextInt(90), 90 + still.nextInt(90), 90));
      brush.fillRect(still.nextInt(WIDTH), still.nextInt(HEIGHT), 200, 150);
    }
    brush.setColor(new Color(118, 118, 118));
    brush.fillRect(
        (int) (CARD_LEFT * WIDTH),
        (int) (CARD_TOP * HEIGHT),
        (int) ((CARD_RIGHT - CARD_LEFT) * WIDTH),
        (int) ((CARD_LOWER - CARD_TOP) * HEIGHT));
    brush.dispose();
    for (int y = 0; y < HEIGHT; y++) {
      double light = Math.pow(2, stops) * (y > HEIGHT * (1 - dark) ? 0.2 : 1);
      for (int x = 0; x < WIDTH; x++) {
        picture.setRGB(x, y, lit(picture.getRGB(x, y), light));
      }
    }
    Path half = folder.resolveSibling(name + ".tmp");
    ImageIO.write(picture, "jpeg", half.toFile());
    Files.move(half, folder.resolve(name), StandardCopyOption.ATOMIC_MOVE);
  }

  /** A frame of fine stripes, one pixel dark, one bright, larger than any preview. */
  void shootStripes(String name) throws IOException {
    BufferedImage picture = new BufferedImage(3600, 2400, BufferedImage.TYPE_INT_RGB);
    for (int y = 0; y < picture.getHeight(); y++) {
      for (int x = 0; x < picture.getWidth(); x++) {
        picture.setRGB(x, y, x % 2 == 0 ? 0x303030 : 0xd0d0d0);
      }
    }
    Path half = folder.resolveSibling(name + ".tmp");
    ImageIO.write(picture, "jpeg", half.toFile());
    Files.move(half, folder.resolve(name), StandardCopyOption.ATOMIC_MOVE);
  }

  private int lit(int rgb, double light) {
    int lit = 0;
    for (int shift = 16; shift >= 0; shift -= 8) {
      double linear = ToneResponse.srgbToLinear((rgb >> shift & 0xff) / 255.0) * light;
      double noisy = Math.max(0, Math.min(1, linear * (1 + 0.02 * noise.nextGaussian())));
      lit |= (int) Math.round(255 * ToneResponse.linearToSrgb(noisy)) << shift;
    }
    return lit;
  }
}

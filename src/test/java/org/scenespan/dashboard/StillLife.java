package org.scenespan.dashboard;

import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.image.BufferedImage;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.Random;
import java.util.stream.DoubleStream;
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

  /** Draws of noise that a pixel's is one of; a power of two. */
  private static final int DRAWS = 64;

  private final Random noise = new Random(11);
  private final double[] draws = DoubleStream.generate(noise::nextGaussian).limit(DRAWS).toArray();
  private final int[] table = new int[256 * DRAWS];
  private double last = Double.NaN;

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
    int[] row = new int[WIDTH];
    for (int y = 0; y < HEIGHT; y++) {
      int[] lit = lit(Math.pow(2, stops) * (y > HEIGHT * (1 - dark) ? 0.2 : 1));
      picture.getRGB(0, y, WIDTH, 1, row, 0, WIDTH);
      for (int x = 0; x < WIDTH; x++) {
        row[x] = noisy(lit, row[x]);
      }
      picture.setRGB(0, y, WIDTH, 1, row, 0, WIDTH);
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

  /** What each code becomes in another light, with each of some draws of noise. */
  private int[] lit(double light) {
    if (light != last) {
      last = light;
      for (int code = 0; code < 256; code++) {
        double linear = ToneResponse.srgbToLinear(code / 255.0) * light;
        for (int draw = 0; draw < DRAWS; draw++) {
          double noisy = Math.max(0, Math.min(1, linear * (1 + 0.02 * draws[draw])));
          table[code * DRAWS + draw] = (int) Math.round(255 * ToneResponse.linearToSrgb(noisy));
        }
      }
    }
    return table;
  }

  private int noisy(int[] lit, int rgb) {
    int noisy = 0;
    int chance = noise.nextInt();
    for (int shift = 16; shift >= 0; shift -= 8) {
      int draw = chance >>> shift & DRAWS - 1;
      noisy |= lit[(rgb >> shift & 0xff) * DRAWS + draw] << shift;
    }
    return noisy;
  }
}

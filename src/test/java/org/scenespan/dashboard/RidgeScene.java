package org.scenespan.dashboard;

import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Supplier;
import javax.imageio.ImageIO;
import org.scenespan.frame.NoiseModel;
import org.scenespan.frame.Patch;
import org.scenespan.frame.Reach;
import org.scenespan.light.Aperture;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;

/**
 * A ridge before a low sun, as a formula, and the pictures that four exposures of it would give.
 */
final class RidgeScene implements Pictures {
  private static final int WIDE = 720;
  private static final int TALL = 480;
  static final double SNR = 10;

  /** EV of mid grey to EV of saturation: log2(100 / 12.7), ISO 12232. */
  static final double HEADROOM_STOPS = Math.log(100 / 12.7) / Math.log(2);

  /** Frame number and shutter seconds, exact and nominal, of each frame. */
  enum Shot {
    FIRST(1, 1 / 256.0, 0.004),
    SECOND(2, 1 / 2048.0, 0.0005),
    THIRD(3, Math.cbrt(2), 1.3),
    FOURTH(4, 32, 30);

    final int frame;
    final double exact;
    final double nominal;

    Shot(int frame, double exact, double nominal) {
      this.frame = frame;
      this.exact = exact;
      this.nominal = nominal;
    }

    double ev() {
      return 6 - Math.log(exact) / Math.log(2);
    }

    Reach reach() {
      return NoiseModel.TYPICAL.reach(
          new Exposure(new Shutter(exact), new Aperture(8), new Iso(100)), SNR);
    }

    String file() {
      return "SCN_%04d.jpg".formatted(frame);
    }
  }

  /** A scene of code is the same each time: it is painted once, and so is each of its pictures. */
  private static final double[] SCENE = painted();

  private static final Map<Shot, BufferedImage> PREVIEWS = new ConcurrentHashMap<>();
  private static final Map<String, byte[]> FILES = new ConcurrentHashMap<>();

  private static double[] painted() {
    double[] scene = new double[WIDE * TALL];
    for (int y = 0; y < TALL; y++) {
      for (int x = 0; x < WIDE; x++) {
        scene[y * WIDE + x] = evAt((x + 0.5) / WIDE, (y + 0.5) / TALL);
      }
    }
    return scene;
  }

  /** The brightness of every pixel, EV at ISO 100. */
  double[] evs() {
    return SCENE.clone();
  }

  /** The scene's brightness, EV at ISO 100, at a point of the picture; (0, 0) is top left. */
  private static double evAt(double u, double v) {
    double toSun = Math.hypot((u - 0.66) * 1.5, v - 0.40);
    double ridge = 0.47 + 0.06 * waves(u * 2.1 + 4) - 0.09 * Math.exp(-sq((u - 0.36) / 0.12));
    double nearer = 0.60 + 0.05 * waves(u * 1.7 + 11) + 0.10 * sq(u - 0.55);
    double bank = 0.78 + 0.04 * waves(u * 2.9 + 7) - 0.12 * Math.exp(-sq((u - 0.05) / 0.22));
    double grain = 0.35 * waves(u * 31 + v * 17) + 0.3 * waves(v * 43 - u * 23);
    // Mist joins the layers: nothing in a landscape ends at one brightness.
    if (v > bank) {
      double hollow = Math.exp(-sq((u - 0.72) / 0.2) - sq((v - 0.96) / 0.14));
      return 4.2 - 3.2 * (v - bank) / (1 - bank) - 3.4 * hollow + 1.6 * grain;
    }
    if (v > nearer) {
      return 8.6 + 1.1 * grain - 3.6 * (v - nearer) / 0.2;
    }
    if (v > ridge) {
      return 9.6 + 0.9 * grain + 3.4 * Math.exp(-toSun / 0.16) + 8 * Math.max(0, v - ridge - 0.06);
    }
    double sky =
        11.8
            + 2.6 * (v / 0.5)
            + 0.5 * grain * sq(v / 0.5)
            + 4.3 * Math.exp(-toSun / 0.11)
            + 0.12 * waves(v * 26 + u * 3);
    return toSun < 0.0035 ? 22 : Math.min(19.2, sky);
  }

  private static double sq(double x) {
    return x * x;
  }

  private static double waves(double t) {
    return (Math.sin(t * 3.1) + 0.6 * Math.sin(t * 7.7 + 1) + 0.35 * Math.sin(t * 17.3 + 2)) / 1.95;
  }

  @Override
  public Optional<byte[]> named(String name) {
    for (Shot shot : Shot.values()) {
      if (name.equals("preview-" + shot.file())) {
        return Optional.of(file(name, () -> encode(preview(shot), "jpg")));
      }
      if (name.equals("mask-" + shot.file().replace(".jpg", ".png"))) {
        return Optional.of(file(name, () -> encode(mask(shot), "png")));
      }
    }
    return Optional.empty();
  }

  /** Cut of what the preview has: the sample has no frame on disk. */
  @Override
  public Optional<byte[]> part(String frame, Patch part) {
    for (Shot shot : Shot.values()) {
      if (frame.equals(shot.file())) {
        int left = (int) (part.left() * (WIDE - 1));
        int top = (int) (part.top() * (TALL - 1));
        int wide = Math.min(WIDE - left, Math.max(1, (int) (part.width() * WIDE)));
        int tall = Math.min(TALL - top, Math.max(1, (int) (part.height() * TALL)));
        return Optional.of(
            file(
                "%s %d %d %d %d".formatted(frame, left, top, wide, tall),
                () -> encode(preview(shot).getSubimage(left, top, wide, tall), "jpg")));
      }
    }
    return Optional.empty();
  }

  private static byte[] file(String name, Supplier<byte[]> made) {
    return FILES.computeIfAbsent(name, any -> made.get());
  }

  private static BufferedImage preview(Shot shot) {
    return PREVIEWS.computeIfAbsent(shot, RidgeScene::taken);
  }

  private static BufferedImage taken(Shot shot) {
    Random random = new Random(shot.frame);
    BufferedImage image = new BufferedImage(WIDE, TALL, BufferedImage.TYPE_INT_RGB);
    for (int y = 0; y < TALL; y++) {
      for (int x = 0; x < WIDE; x++) {
        double ev = SCENE[y * WIDE + x];
        double electrons = 50_000 * Math.pow(2, ev - shot.ev() - HEADROOM_STOPS);
        double noisy = electrons + random.nextGaussian() * Math.sqrt(electrons + 9);
        // Bright parts of this scene are warm, dark ones cool.
        double warm = Math.max(-1, Math.min(1, (ev - 9) / 8));
        image.setRGB(
            x,
            y,
            code(noisy * (1 + 0.25 * warm)) << 16
                | code(noisy) << 8
                | code(noisy * (1 - 0.3 * warm)));
      }
    }
    return image;
  }

  /** sRGB (IEC 61966-2-1) code of electrons. */
  private static int code(double electrons) {
    double linear = Math.max(0, Math.min(1, electrons / 50_000));
    double encoded =
        linear <= 0.0031308 ? 12.92 * linear : 1.055 * Math.pow(linear, 1 / 2.4) - 0.055;
    return (int) Math.round(255 * encoded);
  }

  private static BufferedImage mask(Shot shot) {
    BufferedImage image = new BufferedImage(WIDE, TALL, BufferedImage.TYPE_INT_ARGB);
    for (int i = 0; i < SCENE.length; i++) {
      double stops = SCENE[i] - shot.ev() - HEADROOM_STOPS;
      image.setRGB(i % WIDE, i / WIDE, stops >= 0 ? 0xFFFF0000 : stops < -14 ? 0xFF0000FF : 0);
    }
    return image;
  }

  private static byte[] encode(BufferedImage image, String format) {
    try {
      ByteArrayOutputStream out = new ByteArrayOutputStream();
      ImageIO.write(image, format, out);
      return out.toByteArray();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}

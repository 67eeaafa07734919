package org.scenespan.proof;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.scenespan.frame.Luminance;

/**
 * What each merged pixel is worth, as indices of two maps' palettes: the signal-to-noise that the
 * set reaches, and what is clipped, too dark or moved on a grey picture of the scene.
 */
final class ProofMaps {
  /** Where one class of signal-to-noise ends and the next begins. */
  private static final double[] BOUNDS = {1, 3, 10, 20, 40, 100};

  private static final String[] BOUND_NAMES = {"1", "3", "10", "20", "40", "100"};

  /** From dark to light in even steps, so that they are told apart without hue; clipped is red. */
  private static final int[] SNR_PALETTE = {
    0x1a0b2e, 0x3b1f63, 0x2f4f8f, 0x1f7f8c, 0x3fa868, 0xa3cc3c, 0xfde725, 0xd0202a, 0x000000,
    0xffffff
  };

  private static final int SNR_CLASSES = BOUNDS.length + 1;
  static final int SNR_CLIPPED = SNR_CLASSES;
  private static final int SNR_PAPER = SNR_CLASSES + 1;
  private static final int SNR_INK = SNR_CLASSES + 2;

  private static final int GREYS = 224;
  static final int CLIPPED = GREYS;
  static final int DARK = GREYS + 1;
  static final int MOVED = GREYS + 2;
  private static final int PAPER = GREYS + 3;
  private static final int INK = GREYS + 4;

  private final double snr;
  private final double darkest;
  private final double stops;

  /** How many pixels of each kind there are. */
  static final class Counts {
    final long[] classes = new long[SNR_CLASSES];
    long clipped;
    long dark;
    long moved;

    void add(Counts other) {
      for (int i = 0; i < classes.length; i++) {
        classes[i] += other.classes[i];
      }
      clipped += other.clipped;
      dark += other.dark;
      moved += other.moved;
    }
  }

  /**
   * @param snr that was asked for
   * @param darkest radiance that is drawn black
   * @param brightest radiance that is drawn white
   */
  ProofMaps(double snr, double darkest, double brightest) {
    this.snr = snr;
    this.darkest = darkest;
    this.stops = Math.log(brightest / darkest);
  }

  /**
   * @param radiance three values a pixel, as are their information (1 over the variance)
   * @param at the row's first pixel in all arrays
   */
  Counts row(
      float[] radiance,
      float[] information,
      boolean[] moved,
      int at,
      int movedAt,
      int width,
      byte[] reached,
      byte[] flags) {
    Counts counts = new Counts();
    for (int p = 0; p < width; p++) {
      int i = 3 * (at + p);
      double value = Luminance.of(radiance[i], radiance[i + 1], radiance[i + 2]);
      boolean clipped = information[i] == 0 || information[i + 1] == 0 || information[i + 2] == 0;
      double reachedSnr = clipped ? 0 : value / Math.sqrt(variance(information, i));
      int snrClass = clipped ? SNR_CLIPPED : snrClass(reachedSnr);
      boolean dark = !clipped && reachedSnr < snr;
      boolean differs = moved[movedAt + p];
      reached[at + p] = (byte) snrClass;
      flags[at + p] = (byte) (clipped ? CLIPPED : differs ? MOVED : dark ? DARK : grey(value));
      counts.clipped += clipped ? 1 : 0;
      counts.dark += dark ? 1 : 0;
      counts.moved += differs ? 1 : 0;
      if (!clipped) {
        counts.classes[snrClass]++;
      }
    }
    return counts;
  }

  private static double variance(float[] information, int i) {
    return Luminance.RED * Luminance.RED / information[i]
        + Luminance.GREEN * Luminance.GREEN / information[i + 1]
        + Luminance.BLUE * Luminance.BLUE / information[i + 2];
  }

  private static int snrClass(double value) {
    int at = 0;
    while (at < BOUNDS.length && value >= BOUNDS[at]) {
      at++;
    }
    return at;
  }

  private int grey(double value) {
    double share = value <= darkest ? 0 : Math.log(value / darkest) / stops;
    return (int) Math.round((GREYS - 1) * Math.min(1, share));
  }

  static int[] snrPalette() {
    return SNR_PALETTE.clone();
  }

  static int[] flagPalette() {
    int[] palette = new int[GREYS + 5];
    for (int i = 0; i < GREYS; i++) {
      int grey = 40 + i * 200 / GREYS;
      palette[i] = grey << 16 | grey << 8 | grey;
    }
    palette[CLIPPED] = 0xe0202a;
    palette[DARK] = 0x2050e0;
    palette[MOVED] = 0xf0c000;
    palette[PAPER] = 0x000000;
    palette[INK] = 0xffffff;
    return palette;
  }

  /** The words of a class of signal-to-noise. */
  static String className(int index) {
    if (index == 0) {
      return "under " + BOUND_NAMES[0];
    }
    return index == BOUNDS.length
        ? BOUND_NAMES[index - 1] + " and more"
        : BOUND_NAMES[index - 1] + " to " + BOUND_NAMES[index];
  }

  static Legend snrLegend(int width, int frames) {
    List<Legend.Line> lines = new ArrayList<>();
    lines.add(
        new Legend.Line(
            -1, "Signal to noise of the luminance that " + frames + " frames reach together"));
    for (int i = 0; i < SNR_CLASSES; i++) {
      lines.add(new Legend.Line(i, className(i)));
    }
    lines.add(new Legend.Line(SNR_CLIPPED, "clipped in every frame"));
    return new Legend(width, lines, SNR_PAPER, SNR_INK);
  }

  Legend flagLegend(int width) {
    String asked = String.format(Locale.ROOT, "%.0f", snr);
    List<Legend.Line> lines =
        List.of(
            new Legend.Line(-1, "What is clipped, too dark or moved"),
            new Legend.Line(CLIPPED, "a channel is clipped in every frame"),
            new Legend.Line(DARK, "signal to noise under " + asked),
            new Legend.Line(MOVED, "moved: frames differ by more than noise allows"),
            new Legend.Line(GREYS * 2 / 3, "good: the scene in grey, in even stops"));
    return new Legend(width, lines, PAPER, INK);
  }
}

package org.scenespan.frame;

import java.util.Arrays;
import java.util.Optional;
import org.scenespan.light.Iso;
import org.scenespan.light.Share;
import org.scenespan.light.Stops;

/**
 * Sets two frames of one scene against each other where both hold it: how much brighter the one is,
 * and what has moved, which is what differs by more than the noise allows (after Granados, Kim,
 * Tompkin &amp; Theobalt, ACM TOG 32(6), 2013, on blocks instead of pixels).
 *
 * <p>What a still block's ratio would be is the median: over all blocks in linear light; through a
 * guessed response over blocks of about the same level, since a tone curve makes the ratio another
 * one at each level.
 */
public final class Comparison {
  /** With fewer blocks in common two frames tell nothing of each other. */
  private static final int LEAST_BLOCKS = 24;

  /** A level with fewer blocks has no median to hold them against. */
  private static final int LEAST_AT_LEVEL = 12;

  private static final double LEVELS_PER_STOP = 2;

  private final BlockGrid now;
  private final BlockGrid before;
  private final int[] blocks;
  private final double[] ratios;
  private int count;

  private Comparison(BlockGrid now, BlockGrid before) {
    this.now = now;
    this.before = before;
    this.blocks = new int[now.blocks()];
    this.ratios = new double[now.blocks()];
  }

  /**
   * @param against the file of the frame before
   * @return nothing where the frames are not alike, or hold too little in common
   */
  public static Optional<FrameChange> of(
      BlockGrid now, Iso iso, BlockGrid before, Iso isoBefore, String against, BlockNoise noise) {
    if (!now.isLike(before)) {
      return Optional.empty();
    }
    Comparison both = new Comparison(now, before);
    both.collect(iso, isoBefore, noise);
    return both.count < LEAST_BLOCKS
        ? Optional.empty()
        : Optional.of(both.change(iso, isoBefore, against, noise));
  }

  private void collect(Iso iso, Iso isoBefore, BlockNoise noise) {
    for (int block = 0; block < now.blocks(); block++) {
      double light = now.light(block);
      double earlier = before.light(block);
      if (noise.tells(light, now.pixels(), iso)
          && noise.tells(earlier, before.pixels(), isoBefore)) {
        blocks[count] = block;
        ratios[count] = Math.log(light / earlier);
        count++;
      }
    }
  }

  private FrameChange change(Iso iso, Iso isoBefore, String against, BlockNoise noise) {
    double middle = median(Arrays.copyOf(ratios, count));
    double[] still = noise.depth().isLinear() ? filled(middle) : byLevel();
    double[] moved = new double[count];
    int movers = 0;
    int judged = 0;
    for (int i = 0; i < count; i++) {
      if (Double.isNaN(still[i])) {
        continue;
      }
      judged++;
      double light = now.light(blocks[i]);
      double earlier = before.light(blocks[i]);
      double allowed = noise.allowed(light, iso, earlier, isoBefore, now.pixels());
      if (Math.abs(ratios[i] - still[i]) > allowed) {
        moved[movers++] = light;
      }
    }
    return new FrameChange(
        against,
        Share.of(judged, now.blocks()),
        Share.of(movers, now.blocks()),
        rounded(middle / Math.log(2)),
        levels(Arrays.copyOf(moved, movers)));
  }

  private double[] filled(double middle) {
    double[] still = new double[count];
    Arrays.fill(still, middle);
    return still;
  }

  /** The median of the blocks at each block's own level in the frame before. */
  private double[] byLevel() {
    int[] level = new int[count];
    int most = 0;
    for (int i = 0; i < count; i++) {
      double stops = -Math.log(before.light(blocks[i])) / Math.log(2);
      level[i] = (int) Math.max(0, stops * LEVELS_PER_STOP);
      most = Math.max(most, level[i]);
    }
    double[] still = new double[count];
    for (int wanted = 0; wanted <= most; wanted++) {
      double[] here = new double[count];
      int size = 0;
      for (int i = 0; i < count; i++) {
        if (level[i] == wanted) {
          here[size++] = ratios[i];
        }
      }
      double middle = size < LEAST_AT_LEVEL ? Double.NaN : median(Arrays.copyOf(here, size));
      for (int i = 0; i < count; i++) {
        if (level[i] == wanted) {
          still[i] = middle;
        }
      }
    }
    return still;
  }

  /** From the 5th to the 95th percentile. */
  private static Optional<FrameChange.Levels> levels(double[] moved) {
    if (moved.length == 0) {
      return Optional.empty();
    }
    Arrays.sort(moved);
    return Optional.of(
        new FrameChange.Levels(
            rounded(Math.log(moved[moved.length / 20]) / Math.log(2)),
            rounded(Math.log(moved[moved.length - 1 - moved.length / 20]) / Math.log(2))));
  }

  /** To a thousandth of a stop: no shutter is as exact. */
  private static Stops rounded(double stops) {
    return new Stops(Math.rint(stops * 1000) / 1000);
  }

  private static double median(double[] values) {
    Arrays.sort(values);
    int half = values.length / 2;
    return values.length % 2 == 1 ? values[half] : (values[half - 1] + values[half]) / 2;
  }
}

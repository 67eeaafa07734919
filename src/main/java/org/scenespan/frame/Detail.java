package org.scenespan.frame;

import java.util.Arrays;
import java.util.Optional;

/**
 * How much detail a picture has where it has most of it, from pixel to pixel and from block to
 * block: other light changes both alike, what blurs the picture takes away the fine one first.
 *
 * @param fine squared difference of neighbouring pixels over the squared light, less what noise has
 *     of it, as a power of two
 * @param coarse squared difference of neighbouring blocks' light as a logarithm, as a power of two
 */
public record Detail(double fine, double coarse) {
  /** Blocks that differ by less than 2 % all over hold no detail: fog, a plain sky. */
  private static final double LEAST_COARSE = 0.02 * 0.02;

  /** The parts that count: the quarter of them that differs most. */
  private static final double BEST = 0.75;

  /** Where only noise is: the tenth of the parts that differs least. */
  private static final double NOISE = 0.1;

  public Detail {
    if (!(Double.isFinite(fine) && Double.isFinite(coarse))) {
      throw new IllegalArgumentException("detail (" + fine + ", " + coarse + ") must be finite");
    }
  }

  /**
   * @return nothing where the parts are not told apart, or hold too little to tell by
   */
  public static Optional<Detail> of(SharpnessGrid fine, BlockGrid blocks) {
    int parts = fine.columns() * fine.lines();
    if (parts == 0 || blocks.columns() < 2 || blocks.lines() < 2) {
      return Optional.empty();
    }
    double[] coarse = coarse(fine, blocks);
    double[] sharp = new double[parts];
    for (int part = 0; part < parts; part++) {
      sharp[part] = fine.sharpness(part % fine.columns(), part / fine.columns());
    }
    double least = quantile(coarse, BEST);
    double noise = quantile(sharp, NOISE);
    double sumOfCoarse = 0;
    double sumOfFine = 0;
    int count = 0;
    for (int part = 0; part < parts; part++) {
      if (coarse[part] >= least) {
        sumOfCoarse += coarse[part];
        sumOfFine += Math.max(0, sharp[part] - noise);
        count++;
      }
    }
    double meanCoarse = sumOfCoarse / count;
    double meanFine = sumOfFine / count;
    if (!(meanCoarse >= LEAST_COARSE && meanFine > 0)) {
      return Optional.empty();
    }
    return Optional.of(new Detail(log2(meanFine), log2(meanCoarse)));
  }

  /**
   * How much of the coarse detail is there in the fine one, as a power of two. It stays in other
   * light; that of sharp photographs lies at −7 and above.
   */
  public double sharpness() {
    return fine - coarse;
  }

  /** The mean squared difference of neighbouring blocks within each part. */
  private static double[] coarse(SharpnessGrid fine, BlockGrid blocks) {
    double[] sums = new double[fine.columns() * fine.lines()];
    int[] counts = new int[sums.length];
    for (int line = 0; line + 1 < blocks.lines(); line++) {
      for (int column = 0; column + 1 < blocks.columns(); column++) {
        double here = blocks.log(column, line);
        double square = squared(here, blocks.log(column + 1, line));
        square += squared(here, blocks.log(column, line + 1));
        int part =
            line * fine.lines() / blocks.lines() * fine.columns()
                + column * fine.columns() / blocks.columns();
        if (!Double.isNaN(square)) {
          sums[part] += square;
          counts[part]++;
        }
      }
    }
    for (int part = 0; part < sums.length; part++) {
      sums[part] = counts[part] == 0 ? 0 : sums[part] / counts[part];
    }
    return sums;
  }

  private static double squared(double here, double there) {
    return (here - there) * (here - there);
  }

  private static double quantile(double[] values, double share) {
    double[] sorted = values.clone();
    Arrays.sort(sorted);
    return sorted[(int) Math.min(sorted.length - 1, share * sorted.length)];
  }

  private static double log2(double value) {
    return Math.log(value) / Math.log(2);
  }
}

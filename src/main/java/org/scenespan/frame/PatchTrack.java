package org.scenespan.frame;

import java.util.Arrays;

/**
 * Finds a patch of the reference frame again in a later frame by what is in it, not by what is
 * around it: a card is carried before a wall that stays. A place is the better the evener its
 * blocks are against those of the patch, whatever the light; a difference of light or of colour
 * from what the whole frame has changed by counts too, but less, since that is what is to be
 * measured.
 */
final class PatchTrack {
  /** How far a patch may have moved, as a part of the picture's longer side. */
  private static final double FARTHEST = 0.08;

  /** A place that is less like the patch than this is not it; stops of mean unevenness. */
  private static final double LEAST_LIKE = 0.25;

  /** What a block of distance costs: of two places that are as good the nearer one is taken. */
  private static final double PER_BLOCK = 0.002;

  /** A move must be better than staying by this much: noise moves nothing. */
  private static final double BETTER = 0.03;

  /** What a stop of difference in the patch's light against the whole frame's costs. */
  private static final double LIGHT = 0.15;

  /** What a stop of difference in red or blue against green costs. */
  private static final double COLOUR = 0.7;

  /** No block is more unlike than this, stops: a glint is not the end. */
  private static final double MOST_UNLIKE = 1.5;

  /** Light below this is all the same: black. */
  private static final double BLACK = 2e-4;

  private final int columns;
  private final int lines;
  private final double whole;
  private final double[][] reference;
  private final double[][] now;
  private final int left;
  private final int top;
  private final int right;
  private final int lower;

  /** By how many blocks it has moved, and whether it looks like the patch there. */
  record Place(int columns, int lines, boolean seen) {}

  /**
   * @param whole stops by which the whole frame is brighter than the reference frame
   */
  PatchTrack(ColourGrid reference, ColourGrid now, Blocks patch, double whole) {
    this.columns = reference.columns();
    this.lines = reference.lines();
    this.reference = logs(reference);
    this.now = logs(now);
    this.whole = whole;
    this.left = patch.left();
    this.top = patch.top();
    this.right = patch.right();
    this.lower = patch.lower();
  }

  /** The blocks of a patch: from the first to before the last, at least one either way. */
  record Blocks(int left, int top, int right, int lower) {
    static Blocks of(Patch patch, ColourGrid grid) {
      int left = Math.min((int) Math.round(patch.left() * grid.columns()), grid.columns() - 1);
      int top = Math.min((int) Math.round(patch.top() * grid.lines()), grid.lines() - 1);
      int right = (int) Math.round((patch.left() + patch.width()) * grid.columns());
      int lower = (int) Math.round((patch.top() + patch.height()) * grid.lines());
      return new Blocks(left, top, Math.max(right, left + 1), Math.max(lower, top + 1));
    }
  }

  Place find() {
    int far = (int) Math.ceil(FARTHEST * Math.max(columns, lines));
    double best = cost(0, 0) - BETTER;
    Place place = new Place(0, 0, true);
    for (int down = Math.max(-far, -top); down <= Math.min(far, lines - lower); down++) {
      for (int across = Math.max(-far, -left); across <= Math.min(far, columns - right); across++) {
        double cost = cost(across, down) + PER_BLOCK * Math.hypot(across, down);
        if (cost < best) {
          best = cost;
          place = new Place(across, down, true);
        }
      }
    }
    boolean seen = cost(place.columns(), place.lines()) <= LEAST_LIKE;
    return new Place(place.columns(), place.lines(), seen);
  }

  private double cost(int across, int down) {
    int size = (right - left) * (lower - top);
    double[] light = new double[size];
    double[] red = new double[size];
    double[] blue = new double[size];
    int i = 0;
    for (int line = top; line < lower; line++) {
      for (int column = left; column < right; column++) {
        int there = (line + down) * columns + column + across;
        int here = line * columns + column;
        double r = now[0][there] - reference[0][here];
        double g = now[1][there] - reference[1][here];
        double b = now[2][there] - reference[2][here];
        light[i] = g;
        red[i] = r - g;
        blue[i] = b - g;
        i++;
      }
    }
    double middle = median(light);
    double uneven = 0;
    for (double ratio : light) {
      uneven += Math.min(MOST_UNLIKE, Math.abs(ratio - middle));
    }
    return uneven / size
        + LIGHT * Math.abs(middle - whole)
        + COLOUR * (Math.abs(median(red)) + Math.abs(median(blue)));
  }

  /** Red, green and blue in stops. */
  private static double[][] logs(ColourGrid grid) {
    double[][] logs = new double[3][grid.columns() * grid.lines()];
    for (int line = 0; line < grid.lines(); line++) {
      for (int column = 0; column < grid.columns(); column++) {
        int at = line * grid.columns() + column;
        logs[0][at] = log(grid.red(column, line));
        logs[1][at] = log(grid.green(column, line));
        logs[2][at] = log(grid.blue(column, line));
      }
    }
    return logs;
  }

  private static double log(double light) {
    return Math.log(Math.max(light, BLACK)) / Math.log(2);
  }

  private static double median(double[] values) {
    double[] sorted = values.clone();
    Arrays.sort(sorted);
    int half = sorted.length / 2;
    return sorted.length % 2 == 1 ? sorted[half] : (sorted[half - 1] + sorted[half]) / 2;
  }
}

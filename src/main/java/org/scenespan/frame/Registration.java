package org.scenespan.frame;

import java.util.Optional;

/**
 * Finds out how far a picture as a whole has moved against the one before it, by the gradients of
 * the logarithm of its light, which do not change with the exposure.
 *
 * <p>Tiles of the picture vote: where the camera was moved all of them go along, where clouds or
 * people move, the land stays.
 */
public final class Registration {
  /** Smaller grids tell nothing. */
  private static final int LEAST_COLUMNS = 24;

  private static final int LEAST_LINES = 16;

  /** Columns of the small picture on which the search begins. */
  private static final int SMALL = 64;

  /** How far it goes: parts of the picture either way. */
  private static final int REACH_PART = 4;

  private static final int TILES_ACROSS = 8;
  private static final int TILES_DOWN = 6;

  /** A tile that fits less well than this says nothing: noise, nothing in it, or changed. */
  private static final double FITS = 0.5;

  /** By how much it must fit better to vote for one of two. */
  private static final double BETTER = 0.1;

  private static final int LEAST_MOVED = 4;
  private static final int LEAST_STILL = 3;

  /** So many moved tiles to a still one, and it is the whole picture that moved. */
  private static final int MOVED_TO_STILL = 6;

  private final Gradients now;
  private final Gradients before;

  private Registration(Gradients now, Gradients before) {
    this.now = now;
    this.before = before;
  }

  /**
   * @return nothing where it cannot be told
   */
  public static Optional<Steadiness.Shift> of(BlockGrid now, BlockGrid before) {
    if (!now.isLike(before) || now.columns() < LEAST_COLUMNS || now.lines() < LEAST_LINES) {
      return Optional.empty();
    }
    int factor = Math.max(1, now.columns() / SMALL);
    Registration small = new Registration(Gradients.of(now, factor), Gradients.of(before, factor));
    Registration whole = new Registration(Gradients.of(now, 1), Gradients.of(before, 1));
    int[] rough = small.best(0, 0, small.now.columns / REACH_PART, small.now.lines / REACH_PART);
    int[] best = whole.better(whole.best(0, 0, 1, 1), rough, factor);
    return whole.vote(best[0], best[1]);
  }

  /** The better of what is near the old place and of what the small pictures say. */
  private int[] better(int[] near, int[] rough, int factor) {
    int[] far = best(rough[0] * factor, rough[1] * factor, factor, factor);
    return fit(far[0], far[1], 0, 0, now.columns, now.lines)
            > fit(near[0], near[1], 0, 0, now.columns, now.lines)
        ? far
        : near;
  }

  private int[] best(int right, int down, int reachAcross, int reachDown) {
    int[] best = {right, down};
    double most = Double.NEGATIVE_INFINITY;
    for (int dy = down - reachDown; dy <= down + reachDown; dy++) {
      for (int dx = right - reachAcross; dx <= right + reachAcross; dx++) {
        double fit = fit(dx, dy, 0, 0, now.columns, now.lines);
        if (fit > most) {
          most = fit;
          best = new int[] {dx, dy};
        }
      }
    }
    return best;
  }

  private Optional<Steadiness.Shift> vote(int right, int down) {
    int moved = 0;
    int still = 0;
    for (int ty = 0; ty < TILES_DOWN; ty++) {
      for (int tx = 0; tx < TILES_ACROSS; tx++) {
        int left = tx * now.columns / TILES_ACROSS;
        int top = ty * now.lines / TILES_DOWN;
        int endX = (tx + 1) * now.columns / TILES_ACROSS;
        int endY = (ty + 1) * now.lines / TILES_DOWN;
        double there = fit(right, down, left, top, endX, endY);
        double here = fit(0, 0, left, top, endX, endY);
        if (right == 0 && down == 0) {
          still += here > FITS ? 1 : 0;
        } else if (there > FITS && there > here + BETTER) {
          moved++;
        } else if (here > FITS && here > there + BETTER) {
          still++;
        }
      }
    }
    if (moved >= LEAST_MOVED && still * MOVED_TO_STILL <= moved) {
      return Optional.of(
          new Steadiness.Shift((double) right / now.columns, (double) down / now.lines));
    }
    return still >= LEAST_STILL ? Optional.of(Steadiness.Shift.NONE) : Optional.empty();
  }

  /**
   * How well a part of the picture fits the one before if it has moved by so much: 1 where it is
   * the same, about 0 where it has nothing to do with it.
   */
  private double fit(int right, int down, int left, int top, int endX, int endY) {
    double both = 0;
    double mine = 0;
    double others = 0;
    int fromX = Math.max(left, right);
    int toX = Math.min(endX, now.columns + right);
    for (int y = Math.max(top, down); y < Math.min(endY, now.lines + down); y++) {
      int a = y * now.columns + fromX;
      int b = (y - down) * now.columns + fromX - right;
      for (int x = fromX; x < toX; x++, a++, b++) {
        float ax = now.across[a];
        float ay = now.down[a];
        float bx = before.across[b];
        float by = before.down[b];
        both += ax * bx + ay * by;
        mine += ax * ax + ay * ay;
        others += bx * bx + by * by;
      }
    }
    double size = Math.sqrt(mine * others);
    return size > 0 ? both / size : 0;
  }

  /** How the logarithm of the light changes from block to block; 0 where it is not known. */
  private record Gradients(int columns, int lines, float[] across, float[] down) {
    /** A steeper edge counts no more than this, so that one ridge does not outvote the rest. */
    private static final float STEEPEST = 0.4f;

    static Gradients of(BlockGrid grid, int factor) {
      int columns = grid.columns() / factor;
      int lines = grid.lines() / factor;
      double[] logs = new double[columns * lines];
      for (int y = 0; y < lines; y++) {
        for (int x = 0; x < columns; x++) {
          double sum = 0;
          for (int dy = 0; dy < factor; dy++) {
            for (int dx = 0; dx < factor; dx++) {
              sum += grid.log(x * factor + dx, y * factor + dy);
            }
          }
          logs[y * columns + x] = sum / (factor * factor);
        }
      }
      float[] across = new float[columns * lines];
      float[] down = new float[columns * lines];
      for (int y = 0; y + 1 < lines; y++) {
        for (int x = 0; x + 1 < columns; x++) {
          int at = y * columns + x;
          across[at] = bounded(logs[at + 1] - logs[at]);
          down[at] = bounded(logs[at + columns] - logs[at]);
        }
      }
      return new Gradients(columns, lines, across, down);
    }

    private static float bounded(double slope) {
      return Double.isNaN(slope) ? 0 : Math.max(-STEEPEST, Math.min(STEEPEST, (float) slope));
    }
  }
}

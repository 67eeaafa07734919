package org.scenespan.frame;

import java.util.Arrays;
import java.util.List;
import java.util.function.IntPredicate;

/**
 * Runs of clipped pixels in each row of a frame, or of a part of one. Each packed row may be filled
 * by another thread, as long as what they did is seen before {@link #areas}.
 */
final class ClippedRuns {
  /**
   * Runs that are kept of one row. What comes after grows the last one, so that an area may seem
   * larger than it is and is not let go: the safe side, and a bound on memory.
   */
  private static final int MOST_RUNS = 1024;

  /** From, up to (exclusive), from, up to … of each row; none where nothing is clipped. */
  private final int[][] rows;

  /** As many zeros as a row has pixels. */
  private byte[] none = new byte[0];

  ClippedRuns(int height) {
    rows = new int[height][];
  }

  /**
   * @param flags {@link PixelFlags} of each pixel
   */
  void row(int y, byte[] flags, int width) {
    int[] runs = null;
    int count = 0;
    for (int x = marked(flags, 0, width); x < width; x = marked(flags, x + 1, width)) {
      if ((flags[x] & PixelFlags.CLIPPED) != 0) {
        runs = runs == null ? new int[2 * MOST_RUNS] : runs;
        count = add(runs, count, x);
      }
    }
    rows[y] = runs == null ? null : Arrays.copyOf(runs, count);
  }

  /**
   * @param pixels {@linkplain PackedPixel packed}, in the order
   * @param marked which groups of columns to look into
   */
  void packed(int y, int[] pixels, RowOrder order, IntPredicate marked) {
    int[] runs = new int[2 * MOST_RUNS];
    int count = 0;
    for (int group = 0; group < order.groups(); group++) {
      if (!marked.test(group)) {
        continue;
      }
      int end = Math.min(order.width(), (group + 1) * RowOrder.GROUP);
      for (int x = group * RowOrder.GROUP, i = group; x < end; x++, i += order.groups()) {
        if (PackedPixel.isClipped(pixels[i])) {
          count = add(runs, count, x);
        }
      }
    }
    rows[y] = Arrays.copyOf(runs, count);
  }

  /** The first marked pixel from a column on, or the width. Most are not: many at one look. */
  private int marked(byte[] flags, int from, int width) {
    if (from < width && flags[from] != 0) {
      return from;
    }
    if (none.length < width) {
      none = new byte[width];
    }
    int found = Arrays.mismatch(flags, from, width, none, from, width);
    return found < 0 ? width : from + found;
  }

  private static int add(int[] runs, int count, int x) {
    if (count > 0 && (runs[count - 1] == x || count == runs.length)) {
      runs[count - 1] = x + 1;
      return count;
    }
    runs[count] = x;
    runs[count + 1] = x + 1;
    return count + 2;
  }

  /** The areas of parts that lie one below the other. */
  static ClippedAreas areas(List<ClippedRuns> parts, int width) {
    AreaTracer tracer = new AreaTracer(Math.min(MOST_RUNS, width / 2 + 1));
    for (ClippedRuns part : parts) {
      for (int[] runs : part.rows) {
        tracer.row(runs == null ? new int[0] : runs);
      }
    }
    return tracer.areas();
  }
}

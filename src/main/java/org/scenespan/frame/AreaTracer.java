package org.scenespan.frame;

import java.util.ArrayList;
import java.util.List;

/**
 * Finds connected areas of clipped pixels row by row, in memory that grows with the width alone: an
 * area that the newest row does not touch is finished, counted and forgotten. Not for sharing
 * between threads.
 *
 * <p>Runs of a row are joined with those of the row above by a union-find forest (Galler &amp;
 * Fischer, CACM 7, 1964), which is built anew for each row.
 */
final class AreaTracer {
  private final long[] bySize = new long[63];
  private final int[] parent;
  private final long[] size;
  private final boolean[] goesOn;
  private final int[] compact;
  private Runs above;
  private Runs below;
  private int areas;

  /** The runs of one row: from, up to (exclusive), and the number of their area. */
  private static final class Runs {
    private final int[] from;
    private final int[] end;
    private final int[] area;
    private int count;

    Runs(int most) {
      from = new int[most];
      end = new int[most];
      area = new int[most];
    }

    void add(int start, int stop, int number) {
      from[count] = start;
      end[count] = stop;
      area[count++] = number;
    }
  }

  /**
   * @param most runs of one row
   */
  AreaTracer(int most) {
    above = new Runs(most);
    below = new Runs(most);
    parent = new int[2 * most];
    size = new long[2 * most];
    goesOn = new boolean[2 * most];
    compact = new int[2 * most];
  }

  /**
   * @param runs of clipped pixels in the next row: from, up to (exclusive), and so on
   */
  void row(int[] runs) {
    below.count = 0;
    int labels = areas;
    for (int i = 0; i < runs.length; i += 2) {
      below.add(runs[i], runs[i + 1], labels);
      size[labels++] = runs[i + 1] - runs[i];
    }
    if (labels == 0) {
      return;
    }
    for (int label = 0; label < labels; label++) {
      parent[label] = label;
      goesOn[label] = false;
    }
    join();
    finish(labels);
  }

  private void join() {
    int i = 0;
    int j = 0;
    while (i < above.count && j < below.count) {
      // A corner is enough: the runs may miss each other by one column.
      if (above.from[i] <= below.end[j] && below.from[j] <= above.end[i]) {
        unite(above.area[i], below.area[j]);
      }
      if (above.end[i] < below.end[j]) {
        i++;
      } else {
        j++;
      }
    }
  }

  private void unite(int one, int other) {
    int root = root(one);
    int joined = root(other);
    if (root != joined) {
      parent[joined] = root;
      size[root] += size[joined];
    }
  }

  private int root(int label) {
    int root = label;
    while (parent[root] != root) {
      parent[root] = parent[parent[root]];
      root = parent[root];
    }
    return root;
  }

  /** Counts the areas that end here and numbers the others from 0. */
  private void finish(int labels) {
    for (int run = 0; run < below.count; run++) {
      goesOn[root(below.area[run])] = true;
    }
    areas = 0;
    for (int label = 0; label < labels; label++) {
      if (parent[label] != label) {
        continue;
      }
      if (goesOn[label]) {
        compact[label] = areas;
        // Never above the label itself, so no size is lost before it is moved.
        size[areas++] = size[label];
      } else {
        count(size[label]);
      }
    }
    for (int run = 0; run < below.count; run++) {
      below.area[run] = compact[root(below.area[run])];
    }
    Runs spare = above;
    above = below;
    below = spare;
  }

  private void count(long pixels) {
    bySize[63 - Long.numberOfLeadingZeros(pixels)] += pixels;
  }

  /** After the last row. */
  ClippedAreas areas() {
    for (int label = 0; label < areas; label++) {
      count(size[label]);
    }
    areas = 0;
    above.count = 0;
    int classes = bySize.length;
    while (classes > 0 && bySize[classes - 1] == 0) {
      classes--;
    }
    List<Long> pixels = new ArrayList<>();
    for (int k = 0; k < classes; k++) {
      pixels.add(bySize[k]);
    }
    return new ClippedAreas(pixels);
  }
}

package org.scenespan.cli;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.scenespan.frame.LogHistogram;

/**
 * A histogram in stops drawn with characters. Heights go by the square root of the count, so that a
 * small share still shows; a column that has any pixel is never empty.
 *
 * @param columns characters across, at least {@link #FEWEST}
 * @param blocks whether the terminal shows Unicode's block elements; else plain ASCII
 */
record Bars(int columns, boolean blocks) {
  /** One column a stop, and one for what is saturated. */
  static final int FEWEST = 17;

  private static final String EIGHTHS = " ▁▂▃▄▅▆▇█";
  private static final String PLAIN = " .:|";

  Bars {
    if (!(columns >= FEWEST)) {
      throw new IllegalArgumentException("columns (" + columns + ") must be 17 or more");
    }
  }

  /** Columns to a stop: as many of the histogram's own bins as fit, all of the same width. */
  private int perStop() {
    int most = 1;
    for (int each = 1; each <= LogHistogram.BINS_PER_STOP; each++) {
      if (LogHistogram.BINS_PER_STOP % each == 0 && 16 * each + 1 <= columns) {
        most = each;
      }
    }
    return most;
  }

  private long[] grouped(LogHistogram histogram) {
    int binsEach = LogHistogram.BINS_PER_STOP / perStop();
    long[] counts = new long[16 * perStop() + 1];
    for (int bin = 0; bin <= LogHistogram.SATURATED_BIN; bin++) {
      counts[bin / binsEach] += histogram.count(bin);
    }
    return counts;
  }

  /** Rows from the top to the bottom, without an axis. */
  List<String> rows(LogHistogram histogram, int lines) {
    long[] counts = grouped(histogram);
    long most = 1;
    for (long count : counts) {
      most = Math.max(most, count);
    }
    String steps = blocks ? EIGHTHS : PLAIN;
    int each = steps.length() - 1;
    List<String> rows = new ArrayList<>();
    for (int line = lines - 1; line >= 0; line--) {
      StringBuilder row = new StringBuilder();
      for (long count : counts) {
        int height = (int) Math.round(Math.sqrt((double) count / most) * lines * each);
        height = count > 0 ? Math.max(1, height) : 0;
        row.append(steps.charAt(Math.max(0, Math.min(each, height - line * each))));
      }
      rows.add(row.toString());
    }
    return rows;
  }

  /** Stops relative to saturation under the rows, every fourth. */
  String axis() {
    StringBuilder axis = new StringBuilder(" ".repeat(16 * perStop() + 3));
    for (int stops = -16; stops <= 0; stops += 4) {
      String label = String.format(Locale.ROOT, "%d", stops);
      axis.replace((stops + 16) * perStop(), (stops + 16) * perStop() + label.length(), label);
    }
    return axis.toString().stripTrailing();
  }
}

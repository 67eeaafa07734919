package org.scenespan.journal;

import java.util.Arrays;
import java.util.List;

/** Where each line of a file ends, bytes from its beginning: eight bytes a line. */
final class LineEnds {
  private static final int FIRST_ROOM = 64;

  private long[] ends = new long[FIRST_ROOM];
  private int size;

  int size() {
    return size;
  }

  /** Where a line ends, counted from 0. */
  long get(int line) {
    if (line >= size) {
      throw new IndexOutOfBoundsException(line + " of " + size + " lines");
    }
    return ends[line];
  }

  /** Where the last line ends, 0 before the first. */
  long last() {
    return size == 0 ? 0 : ends[size - 1];
  }

  void add(long end) {
    if (size == ends.length) {
      ends = Arrays.copyOf(ends, 2 * size);
    }
    ends[size++] = end;
  }

  void addAll(List<Long> more) {
    more.forEach(this::add);
  }
}

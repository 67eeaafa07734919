package org.scenespan.folder.jpeg;

/**
 * A row of one chroma component of half the width, made as wide as the picture: each sample weighed
 * 3 to 1 with its left neighbour for the even column and with its right one for the odd one, with
 * libjpeg's rounding; the outermost samples are their own neighbours. One to a thread.
 *
 * <p>Neighbours are copied beside each other, for the compiler of JDK 17 makes no vector
 * instructions of a loop that reads arrays at different places.
 */
final class ChromaRow {
  private static final int LOWER = 0xffff;

  /** Samples of half the width to a group of sixteen columns. */
  private static final int GROUP = 8;

  private final int groups;
  private final int lastSample;
  private final int[] blended;

  /** Samples 0, 2, 4 and 6 of every group; 1, 3, 5 and 7; and the one beside each of those. */
  private final int[] even;

  private final int[] odd;
  private final int[] beforeEven;
  private final int[] behindOdd;
  private boolean quarter;

  ChromaRow(Layout layout) {
    groups = Samples.groups(layout);
    lastSample = (layout.width() - 1) / 2;
    int length = Samples.RUNS * groups;
    blended = new int[length];
    even = new int[length];
    odd = new int[length];
    beforeEven = new int[length];
    behindOdd = new int[length];
  }

  /** Takes a row as {@link Samples} has it. */
  void take(int[] row) {
    quarter = false;
    apart(row);
  }

  /** Takes a row between two of the samples', the nearer one three times. */
  void take(int[] near, int[] far) {
    quarter = true;
    // Both samples of a number at once: four times 255 has 10 bits.
    blend(near, far, blended);
    apart(blended);
  }

  private static void blend(int[] near, int[] far, int[] into) {
    for (int i = 0; i < into.length; i++) {
      into[i] = 3 * near[i] + far[i];
    }
  }

  private void apart(int[] row) {
    lower(row, even);
    upper(row, odd);
    endPicture();
    int shifted = even.length - groups;
    System.arraycopy(odd, 0, beforeEven, groups, shifted);
    System.arraycopy(odd, shifted, beforeEven, 1, groups - 1);
    beforeEven[0] = even[0];
    System.arraycopy(even, groups, behindOdd, 0, shifted);
    System.arraycopy(even, 1, behindOdd, shifted, groups - 1);
    behindOdd[even.length - 1] = odd[even.length - 1];
  }

  private static void lower(int[] row, int[] into) {
    for (int i = 0; i < into.length; i++) {
      into[i] = row[i] & LOWER;
    }
  }

  private static void upper(int[] row, int[] into) {
    for (int i = 0; i < into.length; i++) {
      into[i] = row[i] >>> 16;
    }
  }

  /** Puts the last sample behind itself, where the codes may have any filling. */
  private void endPicture() {
    int column = lastSample % GROUP;
    int at = column / 2 * groups + lastSample / GROUP;
    if (column % 2 == 0) {
      odd[at] = even[at];
    } else if (column < GROUP - 1) {
      even[at + groups] = odd[at];
    }
  }

  /**
   * @param column 0 to 3: columns {@code column}, {@code column + 4} and so on of every group
   */
  void widen(int column, int[] into) {
    int[] centre = column < 2 ? even : odd;
    switch (column) {
      case 0 -> weigh(centre, beforeEven, into);
      case 1 -> weighRight(centre, odd, into);
      case 2 -> weigh(centre, even, into);
      default -> weighRight(centre, behindOdd, into);
    }
  }

  private void weigh(int[] centre, int[] left, int[] into) {
    weigh(centre, left, quarter ? 8 : 1, quarter ? 4 : 2, into);
  }

  private void weighRight(int[] centre, int[] right, int[] into) {
    weigh(centre, right, quarter ? 7 : 2, quarter ? 4 : 2, into);
  }

  private static void weigh(int[] centre, int[] neighbour, int round, int shift, int[] into) {
    for (int i = 0; i < into.length; i++) {
      into[i] = 3 * centre[i] + neighbour[i] + round >> shift;
    }
  }
}

package org.scenespan.folder.jpeg;

/**
 * Two coefficients at one look: what the next {@value #LOOKUP_BITS} bits of a block say where they
 * hold a whole code with its value, and often a second one or the end of the block behind it.
 *
 * <p>An entry is, from the lowest bit: 4 bits of how many bits to drop, {@link #NOTHING}, three
 * bits that are never set, {@link #END}, 5 of how far the first one lies on, 5 of how far the
 * second one does from there, 3 of the second one's value and 10 of the first one's. The six lowest
 * ones are a shift for all but {@link #NOTHING}.
 */
final class PairTable {
  /** Small enough for both tables of a picture to stay in a small first-level cache. */
  static final int LOOKUP_BITS = 11;

  static final int DROP = 15;

  /** The bits have to be looked at in the other table. */
  static final int NOTHING = 1 << 4;

  /** The block ends behind the first coefficient, or before where that lies no further on. */
  static final int END = 1 << 8;

  static final int FIRST_SHIFT = 9;
  static final int SECOND_SHIFT = 14;
  static final int ADVANCE = 31;

  private static final int SECOND_VALUE_SHIFT = 19;
  private static final int SECOND_VALUE = 7;
  private static final int FIRST_VALUE_SHIFT = 22;
  private static final int MOST_FIRST = 511;
  private static final int MOST_SECOND = 3;

  /** Shifts that leave the second value with its sign. */
  static final int SECOND_UP = 32 - FIRST_VALUE_SHIFT;

  static final int SECOND_DOWN = SECOND_UP + SECOND_VALUE_SHIFT;

  /** Shift that leaves the first value with its sign. */
  static final int FIRST_DOWN = FIRST_VALUE_SHIFT;

  private PairTable() {}

  /**
   * @param single entries of the table of one AC coefficient to a look
   */
  static int[] of(int[] single) {
    int[] entries = new int[1 << LOOKUP_BITS];
    for (int bits = 0; bits < entries.length; bits++) {
      entries[bits] = entry(single, bits);
    }
    return entries;
  }

  private static int entry(int[] single, int bits) {
    int first = whole(single, bits, LOOKUP_BITS);
    int value = first >> 16;
    if (first == 0 || Math.abs(value) > MOST_FIRST) {
      return NOTHING;
    }
    int drop = first & HuffmanTable.DROP;
    if (isEnd(first)) {
      return END | drop;
    }
    int one = value << FIRST_VALUE_SHIFT | advance(first) << FIRST_SHIFT;
    int second = whole(single, bits << drop & (1 << LOOKUP_BITS) - 1, LOOKUP_BITS - drop);
    int more = second >> 16;
    if (second == 0 || Math.abs(more) > MOST_SECOND) {
      return one | drop;
    }
    drop += second & HuffmanTable.DROP;
    if (isEnd(second)) {
      return one | END | drop;
    }
    return one
        | advance(second) << SECOND_SHIFT
        | (more & SECOND_VALUE) << SECOND_VALUE_SHIFT
        | drop;
  }

  /** The entry of the other table that as many bits are enough for, or 0. */
  private static int whole(int[] single, int bits, int known) {
    int entry = single[bits << HuffmanTable.LOOKUP_BITS - LOOKUP_BITS];
    boolean isWhole = (entry & HuffmanTable.PARTIAL) == 0 && (entry & HuffmanTable.DROP) <= known;
    return isWhole ? entry : 0;
  }

  private static boolean isEnd(int entry) {
    return advance(entry) == HuffmanTable.END_OF_BLOCK;
  }

  private static int advance(int entry) {
    return entry >> HuffmanTable.ADVANCE_SHIFT & HuffmanTable.ADVANCE;
  }
}

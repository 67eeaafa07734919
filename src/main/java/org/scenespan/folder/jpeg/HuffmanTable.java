package org.scenespan.folder.jpeg;

import java.util.Arrays;

/**
 * One table of Huffman codes (T.81, annex C), looked up by the next 12 bits. Where a code and the
 * bits of its value fit into the 12, one look gives both.
 *
 * <p>An entry is, from the lowest bit: 5 bits of how many bits to drop, 8 of how far to go on in
 * the block, {@link #STORED}, {@link #PARTIAL}, and in the upper half the value, or of a partial
 * entry the size of the value.
 */
final class HuffmanTable {
  static final int LOOKUP_BITS = 12;
  static final int DROP = 31;
  static final int ADVANCE_SHIFT = 5;
  static final int ADVANCE = 255;
  static final int STORED_SHIFT = 13;

  /** The entry has a value, maybe 0 for a DC difference. */
  static final int STORED = 1 << STORED_SHIFT;

  /** The value's bits come after the entry's; with {@link #UNKNOWN}, the code is longer. */
  static final int PARTIAL = 1 << 14;

  /** No entry: the code has more than 12 bits, or there is none. */
  static final int UNKNOWN = 1 << 15;

  /** What the end of a block goes on by: more than any place in a block. */
  static final int END_OF_BLOCK = 128;

  private static final int LONGEST = 16;

  /** T.81, table F.1 and F.2: the largest sizes of an 8-bit picture. */
  private static final int MAX_DC_SIZE = 11;

  private static final int MAX_AC_SIZE = 10;

  private final int[] entries = new int[1 << LOOKUP_BITS];
  private final int[] firstCode = new int[LONGEST + 2];
  private final int[] firstIndex = new int[LONGEST + 2];
  private final int[] counts;
  private final int[] symbols;
  private final boolean dc;

  /**
   * @param counts codes of each length, from 1 at index 1 to 16
   * @param symbols in the order of the codes
   */
  HuffmanTable(boolean dc, int[] counts, int[] symbols) {
    this.dc = dc;
    this.counts = counts;
    this.symbols = symbols;
    for (int symbol : symbols) {
      if (dc ? symbol > MAX_DC_SIZE : (symbol & 15) > MAX_AC_SIZE) {
        throw new Doubt("a Huffman table has values beyond an 8-bit picture");
      }
    }
    int code = 0;
    int index = 0;
    for (int length = 1; length <= LONGEST; length++) {
      firstCode[length] = code;
      firstIndex[length] = index;
      if (code + counts[length] > 1 << length) {
        throw new Doubt("a Huffman table has too many codes");
      }
      code = code + counts[length] << 1;
      index += counts[length];
    }
    Arrays.fill(entries, PARTIAL | UNKNOWN);
    for (int length = 1; length <= LOOKUP_BITS; length++) {
      for (int i = 0; i < counts[length]; i++) {
        fill(firstCode[length] + i, length, symbols[firstIndex[length] + i]);
      }
    }
  }

  int[] entries() {
    return entries;
  }

  private void fill(int code, int length, int symbol) {
    int free = LOOKUP_BITS - length;
    int size = symbol & 15;
    for (int rest = 0; rest < 1 << free; rest++) {
      int entry = partial(length, symbol);
      if (size <= free) {
        int value = size == 0 ? 0 : extended(rest >> free - size, size);
        entry = entry & 0xffff & ~PARTIAL & ~DROP | length + size | value << 16;
      }
      entries[code << free | rest] = entry;
    }
  }

  private int partial(int length, int symbol) {
    int size = symbol & 15;
    int entry = length | PARTIAL | size << 16;
    if (dc) {
      return entry | 1 << ADVANCE_SHIFT | STORED;
    }
    int run = symbol >> 4;
    if (size == 0) {
      // T.81, F.1.2.2: a run of 16 zeros, or the end of the block.
      return entry | (run == 15 ? 16 : END_OF_BLOCK) << ADVANCE_SHIFT;
    }
    return entry | run + 1 << ADVANCE_SHIFT | STORED;
  }

  /** T.81, figure F.12: the value of some bits of a size. */
  static int extended(int bits, int size) {
    return bits < 1 << size - 1 ? bits - (1 << size) + 1 : bits;
  }

  /** The partial entry of a code of more than 12 bits, or 0 where the bits are no code. */
  int longer(long bits) {
    for (int length = LOOKUP_BITS + 1; length <= LONGEST; length++) {
      int offset = (int) (bits >>> 64 - length) - firstCode[length];
      if (offset >= 0 && offset < counts[length]) {
        return partial(length, symbols[firstIndex[length] + offset]);
      }
    }
    return 0;
  }
}

package org.scenespan.folder.jpeg;

import java.util.Arrays;

/**
 * One table of Huffman codes (T.81, annex C), looked up by the next 12 bits. Where a code and the
 * bits of its value fit into the 12, one look gives both.
 *
 * <p>An entry is, from the lowest bit: 6 bits of how many bits to drop, 8 of how far to go on in
 * the block, {@link #PARTIAL}, {@link #UNKNOWN}, and in the upper half the value, or of a partial
 * entry the size of the value.
 */
final class HuffmanTable {
  static final int LOOKUP_BITS = 12;
  static final int DROP = 63;
  static final int ADVANCE_SHIFT = 6;
  static final int ADVANCE = 255;

  /**
   * The value's bits come after the entry's, or there is no value but a run of 16 zeros; with
   * {@link #UNKNOWN}, the code is longer.
   */
  static final int PARTIAL = 1 << 14;

  /** No entry: the code has more than 12 bits, or there is none. */
  static final int UNKNOWN = 1 << 15;

  /** What the end of a block goes on by: more than any place in a block. */
  static final int END_OF_BLOCK = 128;

  private static final int LONGEST = 16;
  private static final int RUN_OF_16 = 0xf0;

  /** T.81, table F.1 and F.2: the largest sizes of an 8-bit picture. */
  private static final int MAX_DC_SIZE = 11;

  private static final int MAX_AC_SIZE = 10;

  private final int[] entries = new int[1 << LOOKUP_BITS];
  private final int[] firstCode = new int[LONGEST + 2];
  private final int[] firstIndex = new int[LONGEST + 2];
  private final int[] counts;
  private final int[] symbols;
  private final boolean dc;
  private final int[] pairs;

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
    pairs = dc ? new int[0] : PairTable.of(entries);
  }

  /** Of a table of AC codes, the entries of its {@link PairTable}. */
  int[] pairs() {
    return pairs;
  }

  int[] entries() {
    return entries;
  }

  private void fill(int code, int length, int symbol) {
    int free = LOOKUP_BITS - length;
    int size = symbol & 15;
    for (int rest = 0; rest < 1 << free; rest++) {
      int entry = partial(length, symbol);
      if (size <= free && (dc || symbol != RUN_OF_16)) {
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
      return entry | 1 << ADVANCE_SHIFT;
    }
    int run = symbol >> 4;
    if (size == 0) {
      // T.81, F.1.2.2: a run of 16 zeros, or the end of the block.
      return entry | (run == 15 ? 16 : END_OF_BLOCK) << ADVANCE_SHIFT;
    }
    return entry | run + 1 << ADVANCE_SHIFT;
  }

  /** T.81, figure F.12: the value of some bits of a size. */
  static int extended(int bits, int size) {
    return bits < 1 << size - 1 ? bits - (1 << size) + 1 : bits;
  }

  /**
   * The whole entry of the next code, or 0 where the bits are no code. A run of 16 zeros stays
   * partial.
   *
   * @param bits from the code on, at least 26 of them
   */
  int next(long bits) {
    int entry = entries[(int) (bits >>> 64 - LOOKUP_BITS)];
    return (entry & PARTIAL) == 0 ? entry : resolved(bits, entry);
  }

  /**
   * The whole entry in place of a partial one, or 0 where the bits are no code. A run of 16 zeros
   * stays partial.
   *
   * @param bits from the code on, at least 26 of them
   */
  int resolved(long bits, int partial) {
    int entry = partial;
    if ((entry & UNKNOWN) != 0) {
      entry = longer(bits);
    }
    int size = entry >>> 16;
    int drop = entry & DROP;
    if (size == 0) {
      return isRunOf16(entry) ? entry : entry & ~PARTIAL;
    }
    int value = extended((int) (bits << drop >>> 64 - size), size);
    return value << 16 | entry & 0xffff & ~PARTIAL & ~DROP | drop + size;
  }

  private boolean isRunOf16(int entry) {
    return !dc && (entry >> ADVANCE_SHIFT & ADVANCE) == 16;
  }

  /** The partial entry of a code of more than 12 bits, or 0 where the bits are no code. */
  private int longer(long bits) {
    for (int length = LOOKUP_BITS + 1; length <= LONGEST; length++) {
      int offset = (int) (bits >>> 64 - length) - firstCode[length];
      if (offset >= 0 && offset < counts[length]) {
        return partial(length, symbols[firstIndex[length] + offset]);
      }
    }
    return 0;
  }
}

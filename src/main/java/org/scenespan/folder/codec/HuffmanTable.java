package org.scenespan.folder.codec;

import java.util.Arrays;

/**
 * A Huffman table (ITU-T T.81, annex C) of the categories of differences (annex H.1.2.2). One look
 * gives the difference itself where its code and its further bits fit into the look.
 */
final class HuffmanTable {
  /** Bits of a look. */
  static final int LOOK_BITS = 12;

  /** Bits that the longest code and its difference take. */
  static final int MOST_BITS = 32;

  /** How far a look is from the top of a window of 64 bits. */
  static final int LOOK_SHIFT = 64 - LOOK_BITS;

  /** Leaves an entry's count of bits. */
  static final int USED = 0x3f;

  /** Shifts an entry's difference down. */
  static final int DIFFERENCE_SHIFT = 6;

  private static final int LONGEST = 16;

  /** In an entry for a code that the look is too short for; no other has this bit of its count. */
  static final int SHORT = 0x20;

  /**
   * Difference in the high 26 bits, bits that it and its code take in the low 6. With {@link
   * #SHORT}, the high bits have the category and, from its fifth bit on, the length of the code,
   * which is 0 if that does not fit either.
   */
  final int[] look = new int[1 << LOOK_BITS];

  /** Of each length the first code, filled up to 16 bits, that is too high for it. */
  private final int[] limits = new int[LONGEST + 1];

  /** Of each length the place of its first code's category, less that code. */
  private final int[] places = new int[LONGEST + 1];

  private final byte[] categories;

  /**
   * @param counts where the numbers of codes of each length are
   * @param values where the categories are
   */
  HuffmanTable(byte[] data, int counts, int values, int valueCount) throws DamagedData {
    categories = Arrays.copyOfRange(data, values, values + valueCount);
    Arrays.fill(look, SHORT);
    int code = 0;
    int place = 0;
    for (int length = 1; length <= LONGEST; length++) {
      places[length] = place - code;
      for (int i = data[counts + length - 1] & 0xff; i > 0; i--) {
        int category = categories[place++] & 0xff;
        if (category > 16 || code >= 1 << length) {
          throw new DamagedData("a Huffman table of its lossless JPEG makes no sense");
        }
        if (length <= LOOK_BITS) {
          fill(code, length, category);
        }
        code++;
      }
      limits[length] = code << LONGEST - length;
      code <<= 1;
    }
  }

  private void fill(int code, int length, int category) {
    int bits = category == 16 ? 0 : category;
    int total = length + bits;
    if (total > LOOK_BITS) {
      int from = code << LOOK_BITS - length;
      int rest = length << 5 | category;
      Arrays.fill(look, from, from + (1 << LOOK_BITS - length), rest << DIFFERENCE_SHIFT | SHORT);
      return;
    }
    int step = 1 << LOOK_BITS - total;
    int at = code << LOOK_BITS - length;
    for (int value = 0; value < 1 << bits; value++, at += step) {
      Arrays.fill(look, at, at + step, entry(value, bits, category, total));
    }
  }

  /** T.81, table H.2: category 16 has no further bits. */
  private static int entry(int value, int bits, int category, int total) {
    int difference = value;
    if (category == 16) {
      difference = -32768;
    } else if (category > 0 && value < 1 << category - 1) {
      difference = value - (1 << bits) + 1;
    }
    return difference << DIFFERENCE_SHIFT | total;
  }

  /**
   * The entry of the next code, in a look or not; its bits may be up to {@link #MOST_BITS}.
   *
   * @param window the codes' next bits at the top, {@link #MOST_BITS} at least
   */
  int entry(long window) throws DamagedData {
    int looked = look[(int) (window >>> LOOK_SHIFT)];
    return (looked & SHORT) == 0 ? looked : longEntry(window, looked);
  }

  private int longEntry(long window, int looked) throws DamagedData {
    int length = looked >> DIFFERENCE_SHIFT + 5;
    int category = looked >> DIFFERENCE_SHIFT & 0x1f;
    if (length == 0) {
      int top = (int) (window >>> 64 - LONGEST);
      length = 1;
      while (length <= LONGEST && top >= limits[length]) {
        length++;
      }
      if (length > LONGEST) {
        throw new DamagedData("its lossless JPEG has a code that is in no table");
      }
      category = categories[places[length] + (top >> LONGEST - length)] & 0xff;
    }
    int bits = category == 16 ? 0 : category;
    int value = bits == 0 ? 0 : (int) (window << length >>> 64 - bits);
    return entry(value, bits, category, length + bits);
  }
}

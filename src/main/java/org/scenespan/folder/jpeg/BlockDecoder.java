package org.scenespan.folder.jpeg;

import java.lang.invoke.MethodHandles;
import java.lang.invoke.VarHandle;
import java.nio.ByteOrder;

/**
 * Reads the Huffman codes of blocks (T.81, F.2.2) and puts their coefficients, multiplied by their
 * quantisation, where the {@link InverseTransform} takes them from.
 */
final class BlockDecoder {
  /** What {@link #block} answers where the bits are no codes of a block. */
  static final int BROKEN = -1;

  private static final VarHandle LONG =
      MethodHandles.byteArrayViewVarHandle(long[].class, ByteOrder.BIG_ENDIAN);

  private static final int LAST = 63;
  private static final int LOOK = 64 - HuffmanTable.LOOKUP_BITS;
  private static final int PAIR_LOOK = 64 - PairTable.LOOKUP_BITS;

  /** Pairs have 11 bits at most, and a load has 57 at least. */
  private static final int PAIRS_TO_A_LOAD = 5;

  private static final int OFFSET = 0xffff;

  /** Of each block of a unit, by zigzag: quantisation and, in the lower half, the place. */
  private final int[][] places;

  private final int[] componentOf;
  private final HuffmanTable[] dcOf;
  private final HuffmanTable[] acOf;
  private final int[] dc = new int[3];

  BlockDecoder(Layout layout) {
    componentOf = layout.componentOf();
    dcOf = layout.dcOf();
    acOf = layout.acOf();
    places = new int[componentOf.length][LAST + 1];
    int[] zigzag = zigzag();
    for (int phase = 0; phase < places.length; phase++) {
      int[] quantisation = layout.quantisation()[componentOf[phase]];
      for (int k = 0; k <= LAST; k++) {
        places[phase][k] = quantisation[k] << 16 | zigzag[k] * InverseTransform.BATCH;
      }
    }
  }

  /** T.81, figure 5: the place of each coefficient of the zigzag, 8 v + u. */
  private static int[] zigzag() {
    int[] places = new int[LAST + 1];
    int u = 0;
    int v = 0;
    for (int k = 0; k <= LAST; k++) {
      places[k] = 8 * v + u;
      boolean up = (u + v) % 2 == 0;
      if (up ? u == 7 : v == 7) {
        // At the right or lower edge: along it.
        u += up ? 0 : 1;
        v += up ? 1 : 0;
      } else if (up ? v == 0 : u == 0) {
        u += up ? 1 : 0;
        v += up ? 0 : 1;
      } else {
        u += up ? 1 : -1;
        v += up ? -1 : 1;
      }
    }
    return places;
  }

  /** Starts the sums of DC differences anew. */
  void restart() {
    dc[0] = 0;
    dc[1] = 0;
    dc[2] = 0;
  }

  /**
   * Decodes a block.
   *
   * @param bytes with enough of them behind the block for a look ahead
   * @param phase number of the block within its unit
   * @param into zeros, for the coefficients of a batch
   * @param column of the batch
   * @return the bit at which the next block starts, or {@link #BROKEN}
   */
  int block(byte[] bytes, int bit, int phase, int[] into, int column) {
    HuffmanTable table = dcOf[phase];
    long bits = bitsFrom(bytes, bit);
    int entry = table.entries()[(int) (bits >>> LOOK)];
    if ((entry & HuffmanTable.PARTIAL) != 0) {
      entry = table.resolved(bits, entry);
      if (entry == 0) {
        return BROKEN;
      }
    }
    int component = componentOf[phase];
    dc[component] += entry >> 16;
    int[] places = this.places[phase];
    into[column] = (short) dc[component] * (places[0] >> 16);
    return coefficients(
        bytes, bit + (entry & HuffmanTable.DROP), acOf[phase], places, into, column);
  }

  private static int coefficients(
      byte[] bytes, int bit, HuffmanTable table, int[] places, int[] into, int column) {
    int[] pairs = table.pairs();
    int at = bit;
    int done = 0;
    while (true) {
      // Few variables, so that the compiler keeps them in registers: the bits are loaded anew.
      long bits = bitsFrom(bytes, at);
      int left = PAIRS_TO_A_LOAD;
      do {
        int pair = pairs[(int) (bits >>> PAIR_LOOK)];
        int first = done + (pair >>> PairTable.FIRST_SHIFT & PairTable.ADVANCE);
        int second = first + (pair >>> PairTable.SECOND_SHIFT & PairTable.ADVANCE);
        if ((pair & PairTable.NOTHING) != 0 || second >= LAST) {
          // One alone; more bits than were looked at may be gone.
          int entry = table.next(bitsFrom(bytes, at));
          if (entry == 0) {
            return BROKEN;
          }
          at += entry & HuffmanTable.DROP;
          int advance = entry >> HuffmanTable.ADVANCE_SHIFT & HuffmanTable.ADVANCE;
          if (advance == HuffmanTable.END_OF_BLOCK) {
            return at;
          }
          done += advance;
          if (done > LAST) {
            return BROKEN;
          }
          if ((entry & HuffmanTable.PARTIAL) == 0) {
            put(entry >> 16, places[done], into, column);
          }
          if (done == LAST) {
            return at;
          }
          break;
        }
        if ((pair & PairTable.END) != 0) {
          if (first > done) {
            put(pair >> PairTable.FIRST_DOWN, places[first], into, column);
          }
          return at + (pair & PairTable.DROP);
        }
        bits <<= pair;
        at += pair & PairTable.DROP;
        // Where there is no second one, its 0 goes to the first one's place, before that one.
        int value = pair << PairTable.SECOND_UP >> PairTable.SECOND_DOWN;
        put(value, places[second], into, column);
        put(pair >> PairTable.FIRST_DOWN, places[first], into, column);
        done = second;
      } while (--left > 0);
    }
  }

  private static void put(int value, int place, int[] into, int column) {
    into[(place & OFFSET) + column] = value * (place >> 16);
  }

  /** The bits from a position on, from the top; at least 57 of them. */
  private static long bitsFrom(byte[] bytes, int bit) {
    return (long) LONG.get(bytes, bit >>> 3) << (bit & 7);
  }
}

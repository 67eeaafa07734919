package org.scenespan.folder.codec;

import java.lang.invoke.MethodHandles;
import java.lang.invoke.VarHandle;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;

/**
 * Unpacks rows of a sensor's codes of 8 to 16 bits into pairs of neighbouring sites: the left one
 * in the low 16 bits of a number, the right one in the high 16 bits.
 */
public final class SitePairs {
  /** Bytes behind the last row that may be read, so that eight can be read at once anywhere. */
  public static final int PADDING = 8;

  private static final VarHandle LONGS =
      MethodHandles.byteArrayViewVarHandle(long[].class, ByteOrder.BIG_ENDIAN);

  private SitePairs() {}

  /**
   * @param packed whole bytes a row, the highest bit first, {@link #PADDING} bytes longer than the
   *     last row
   * @param at where the row begins
   * @param bits of a code, 8 to 16; 16 are in the file's byte order
   * @param count sites; of an odd count the last pair's right one is of no meaning
   */
  public static void unpack(
      byte[] packed, int at, int bits, boolean bigEndian, int count, int[] into, int to) {
    int pairs = (count + 1) / 2;
    if (bits == 16) {
      ByteBuffer.wrap(packed, at, 4 * pairs)
          .order(ByteOrder.LITTLE_ENDIAN)
          .asIntBuffer()
          .get(into, to, pairs);
      if (bigEndian) {
        swapBytes(into, to, pairs);
      }
    } else if (bits == 8) {
      for (int i = 0, p = at; i < pairs; i++, p += 2) {
        into[to + i] = packed[p] & 0xff | (packed[p + 1] & 0xff) << 16;
      }
    } else {
      unpackBits(packed, at, bits, pairs, into, to);
    }
  }

  private static void swapBytes(int[] pairs, int from, int count) {
    for (int i = from; i < from + count; i++) {
      int pair = pairs[i];
      pairs[i] = (pair & 0x00ff00ff) << 8 | pair >>> 8 & 0x00ff00ff;
    }
  }

  private static void unpackBits(byte[] packed, int at, int bits, int pairs, int[] into, int to) {
    int mask = (1 << bits) - 1;
    long bit = 8L * at;
    for (int i = 0; i < pairs; i++, bit += 2 * bits) {
      long window = (long) LONGS.get(packed, (int) (bit >>> 3)) << (int) (bit & 7);
      int left = (int) (window >>> 64 - bits);
      int right = (int) (window >>> 64 - 2 * bits) & mask;
      into[to + i] = left | right << 16;
    }
  }

  /**
   * Unpacks a row into codes that are not paired.
   *
   * @param into from its start on
   */
  public static void unpack(
      byte[] packed, int at, int bits, boolean bigEndian, int count, short[] into) {
    int[] pairs = new int[(count + 1) / 2];
    unpack(packed, at, bits, bigEndian, count, pairs, 0);
    for (int i = 0; i < count; i++) {
      into[i] = (short) (pairs[i >> 1] >>> 16 * (i & 1));
    }
  }

  /**
   * Puts codes into a row of pairs.
   *
   * @param at where the row of pairs begins
   * @param left number of the row's site that takes the first one
   */
  public static void put(short[] codes, int from, int count, int[] pairs, int at, int left) {
    for (int i = 0; i < count; i++) {
      int x = left + i;
      int shift = 16 * (x & 1);
      int pair = at + (x >> 1);
      pairs[pair] = pairs[pair] & ~(0xffff << shift) | (codes[from + i] & 0xffff) << shift;
    }
  }
}

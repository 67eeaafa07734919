package org.scenespan.folder.codec;

import java.lang.invoke.MethodHandles;
import java.lang.invoke.VarHandle;
import java.nio.ByteOrder;
import java.util.Arrays;

/**
 * The codes of a lossless JPEG's scan as they follow each other, without the zeros that are stuffed
 * behind bytes of all ones, and where its restart marks stood between them.
 */
final class ScanCodes {
  /** Zeros behind the last byte, so that eight bytes can be read at once wherever a code begins. */
  static final int PADDING = 24;

  /** Eight bytes at once, the first one at the top. */
  static final VarHandle LONGS =
      MethodHandles.byteArrayViewVarHandle(long[].class, ByteOrder.BIG_ENDIAN);

  private final byte[] bytes;
  private final int length;
  private final int[] restarts;

  private ScanCodes(byte[] bytes, int length, int[] restarts) {
    this.bytes = bytes;
    this.length = length;
    this.restarts = restarts;
  }

  /**
   * Copies the codes up to the mark that ends them, or the data's end.
   *
   * @param scan where they begin in the data
   * @param room takes them; {@link #PADDING} bytes longer than the data
   */
  static ScanCodes of(byte[] data, int scan, int length, byte[] room) {
    int[] restarts = new int[16];
    int count = 0;
    int to = 0;
    int from = scan;
    while (from < length) {
      int end = copied(data, from, length, room, to);
      to += end - from;
      if (end + 1 >= length) {
        break;
      }
      int marker = data[end + 1] & 0xff;
      if (marker == 0) {
        room[to++] = (byte) 0xff;
        from = end + 2;
      } else if (marker >= 0xd0 && marker <= 0xd7) {
        if (count == restarts.length) {
          restarts = Arrays.copyOf(restarts, count * 2);
        }
        restarts[count++] = to;
        from = end + 2;
      } else if (marker == 0xff) {
        from = end + 1;
      } else {
        break;
      }
    }
    Arrays.fill(room, to, to + PADDING, (byte) 0);
    return new ScanCodes(room, to, Arrays.copyOf(restarts, count));
  }

  /** Copies bytes up to the next one that is 0xff and answers its place, or the end. */
  private static int copied(byte[] data, int from, int length, byte[] room, int to) {
    int at = from;
    int shift = to - from;
    while (at + Long.BYTES <= length) {
      long eight = (long) LONGS.get(data, at);
      // A byte of all ones is 0 in the complement: the usual test for a byte of 0 in a number.
      if (((~eight - 0x0101010101010101L) & eight & 0x8080808080808080L) != 0) {
        break;
      }
      LONGS.set(room, at + shift, eight);
      at += Long.BYTES;
    }
    while (at < length && data[at] != (byte) 0xff) {
      room[at + shift] = data[at];
      at++;
    }
    return at;
  }

  /** The codes from the first byte on, with zeros behind them. */
  byte[] bytes() {
    return bytes;
  }

  /**
   * The last place where eight bytes may be read: zeros come where the codes end, and a row's end
   * shows that they were too few.
   */
  int lastWindow() {
    return length + PADDING - Long.BYTES;
  }

  /**
   * Bits of the codes before a restart mark.
   *
   * @param index 0 for the first mark
   */
  long restart(int index) throws DamagedData {
    if (index >= restarts.length) {
      throw new DamagedData("a restart mark of its lossless JPEG is missing");
    }
    return (long) restarts[index] * 8;
  }

  /**
   * At least 57 bits of the codes, the next one at the top.
   *
   * @param position bits of the codes that were taken
   */
  long window(long position) throws DamagedData {
    int index = (int) (position >> 3);
    if (index > length + PADDING - Long.BYTES) {
      throw endsTooEarly();
    }
    return (long) LONGS.get(bytes, index) << (position & 7);
  }

  /**
   * @param position bits of the codes that were taken
   */
  void check(long position) throws DamagedData {
    if (position > 8L * length) {
      throw endsTooEarly();
    }
  }

  private static DamagedData endsTooEarly() {
    return new DamagedData("its lossless JPEG ends too early");
  }
}

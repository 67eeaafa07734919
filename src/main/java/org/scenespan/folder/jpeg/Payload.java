package org.scenespan.folder.jpeg;

import java.lang.invoke.MethodHandles;
import java.lang.invoke.VarHandle;
import java.nio.ByteOrder;
import java.util.Arrays;

/**
 * Some of a scan's bytes without the zeros that are stuffed after 0xff (T.81, B.1.1.5), so that
 * codes can be read from any bit on.
 */
final class Payload {
  private static final VarHandle LONG =
      MethodHandles.byteArrayViewVarHandle(long[].class, ByteOrder.BIG_ENDIAN);

  private static final long SEVEN_BITS = 0x7f7f7f7f7f7f7f7fL;
  private static final long ONES = 0x0101010101010101L;

  /** Zeros behind the end: no block takes more, 64 codes of 27 bits, and one look ahead. */
  static final int SLACK_BYTES = 64 * 27 / 8 + 24;

  private byte[] bytes = new byte[SLACK_BYTES];
  private int length;

  byte[] bytes() {
    return bytes;
  }

  /** Bytes so far. */
  int length() {
    return length;
  }

  void clear() {
    length = 0;
  }

  /** Forgets the first bytes. */
  void drop(int count) {
    length -= count;
    System.arraycopy(bytes, count, bytes, 0, length);
  }

  /** Makes room for as many more bytes. */
  void reserve(int more) {
    int needed = length + more + SLACK_BYTES;
    if (bytes.length < needed) {
      bytes = Arrays.copyOf(bytes, needed);
    }
  }

  /**
   * Appends raw bytes up to a marker or a position, and answers where it stopped.
   *
   * @param from never between 0xff and its zero
   */
  int append(byte[] raw, int from, int to) {
    int in = from;
    int out = length;
    byte[] target = bytes;
    while (in < to) {
      while (in + 8 <= to) {
        long eight = (long) LONG.get(raw, in);
        // A byte of 0xff alone carries into its top bit when one is added to its lower seven.
        if (((eight & SEVEN_BITS) + ONES & eight & ~SEVEN_BITS) != 0) {
          break;
        }
        LONG.set(target, out, eight);
        in += 8;
        out += 8;
      }
      int stop = Math.min(to, in + 8);
      while (in < stop) {
        byte one = raw[in];
        if (one == -1) {
          if (in + 1 >= raw.length || raw[in + 1] != 0) {
            length = out;
            return in;
          }
          in++;
        }
        in++;
        target[out++] = one;
      }
    }
    length = out;
    return in;
  }

  /** Puts zeros behind the end. */
  void seal() {
    Arrays.fill(bytes, length, length + SLACK_BYTES, (byte) 0);
  }
}

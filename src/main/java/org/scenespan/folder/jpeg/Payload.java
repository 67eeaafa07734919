package org.scenespan.folder.jpeg;

import java.lang.invoke.MethodHandles;
import java.lang.invoke.VarHandle;
import java.nio.ByteOrder;
import java.util.Arrays;

/**
 * A part of a scan's bytes without the zeros that are stuffed after 0xff (T.81, B.1.1.5), so that
 * codes can be read from any bit on.
 */
final class Payload {
  private static final VarHandle LONG =
      MethodHandles.byteArrayViewVarHandle(long[].class, ByteOrder.BIG_ENDIAN);

  private static final long SEVEN_BITS = 0x7f7f7f7f7f7f7f7fL;
  private static final long ONES = 0x0101010101010101L;

  /** Zeros behind the end: no block takes more, 64 codes of 27 bits, and one look ahead. */
  static final int SLACK_BYTES = 64 * 27 / 8 + 24;

  private byte[] bytes = new byte[0];
  private int length;

  byte[] bytes() {
    return bytes;
  }

  /** Bytes so far. */
  int length() {
    return length;
  }

  /** Bytes that there is room for, the zeros behind the end among them. */
  int capacity() {
    return bytes.length;
  }

  void clear(int capacity) {
    if (bytes.length < capacity + SLACK_BYTES) {
      bytes = new byte[capacity + SLACK_BYTES];
    }
    length = 0;
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

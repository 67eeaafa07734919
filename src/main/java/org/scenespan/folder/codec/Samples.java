package org.scenespan.folder.codec;

/**
 * Unpacks rows of samples and undoes predictors (TIFF 6.0, section 14, and Technical Note 3 for
 * floating point).
 */
public final class Samples {
  private static final byte[] REVERSED = new byte[256];

  static {
    for (int i = 0; i < 256; i++) {
      REVERSED[i] = (byte) (Integer.reverse(i) >>> 24);
    }
  }

  private Samples() {}

  /** Turns the bits of each byte around, for files that fill bytes from the lowest bit on. */
  public static void reverseBits(byte[] bytes, int length) {
    for (int i = 0; i < length; i++) {
      bytes[i] = REVERSED[bytes[i] & 0xff];
    }
  }

  /**
   * Unpacks one row of samples.
   *
   * @param packed whole bytes a row, the highest bit first
   * @param at where the row begins
   * @param bits of a sample, 1 to 32; 16, 24 and 32 are in the file's byte order
   * @param into takes the samples as unsigned numbers in the low bits
   */
  public static void unpack(
      byte[] packed, int at, int bits, boolean bigEndian, int count, int[] into, int to) {
    switch (bits) {
      case 8 -> {
        for (int i = 0; i < count; i++) {
          into[to + i] = packed[at + i] & 0xff;
        }
      }
      case 16 -> {
        int high = bigEndian ? 0 : 1;
        for (int i = 0, p = at; i < count; i++, p += 2) {
          into[to + i] = (packed[p + high] & 0xff) << 8 | packed[p + 1 - high] & 0xff;
        }
      }
      case 24, 32 -> {
        int bytes = bits / 8;
        for (int i = 0, p = at; i < count; i++, p += bytes) {
          int value = 0;
          for (int b = 0; b < bytes; b++) {
            value = value << 8 | packed[p + (bigEndian ? b : bytes - 1 - b)] & 0xff;
          }
          into[to + i] = value;
        }
      }
      default -> {
        long window = 0;
        int held = 0;
        int p = at;
        long mask = (1L << bits) - 1;
        for (int i = 0; i < count; i++) {
          while (held < bits) {
            window = window << 8 | packed[p++] & 0xff;
            held += 8;
          }
          held -= bits;
          into[to + i] = (int) (window >>> held & mask);
        }
      }
    }
  }

  /** Undoes horizontal differences: each sample was written less the one before it. */
  public static void undoDifferences(int[] row, int at, int count, int step, int bits) {
    int mask = bits == 32 ? -1 : (1 << bits) - 1;
    for (int i = at + step; i < at + count; i++) {
      row[i] = row[i] + row[i - step] & mask;
    }
  }

  /**
   * Undoes the floating-point predictor: the bytes of a row were sorted by their weight, the
   * highest first, and differences taken of them. The row comes back big-endian.
   *
   * @param count samples of the row
   * @param bytes of a sample
   * @param step samples of a pixel
   */
  public static void undoFloatDifferences(
      byte[] row, int at, int count, int bytes, int step, byte[] scratch) {
    int length = count * bytes;
    for (int i = at + step; i < at + length; i++) {
      row[i] += row[i - step];
    }
    System.arraycopy(row, at, scratch, 0, length);
    for (int i = 0; i < count; i++) {
      for (int b = 0; b < bytes; b++) {
        row[at + i * bytes + b] = scratch[b * count + i];
      }
    }
  }

  /** The value of a 16-bit float (IEEE 754 binary16). */
  public static float half(int bits) {
    int sign = (bits & 0x8000) << 16;
    int exponent = bits >> 10 & 0x1f;
    int mantissa = bits & 0x3ff;
    if (exponent == 0) {
      float small = mantissa * 0x1p-24f;
      return sign == 0 ? small : -small;
    }
    int wide = exponent == 31 ? 0xff : exponent + 112;
    return Float.intBitsToFloat(sign | wide << 23 | mantissa << 13);
  }

  /** The value of a 24-bit float: 1 bit of sign, 7 of exponent, 16 of mantissa (DNG 1.4). */
  public static float threeByteFloat(int bits) {
    int sign = (bits & 0x800000) << 8;
    int exponent = bits >> 16 & 0x7f;
    int mantissa = bits & 0xffff;
    if (exponent == 0) {
      float small = mantissa * 0x1p-78f;
      return sign == 0 ? small : -small;
    }
    int wide = exponent == 127 ? 0xff : exponent + 64;
    return Float.intBitsToFloat(sign | wide << 23 | mantissa << 7);
  }
}

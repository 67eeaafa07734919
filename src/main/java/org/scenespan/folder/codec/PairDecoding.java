package org.scenespan.folder.codec;

import java.util.function.IntConsumer;

/**
 * Decodes a lossless JPEG of two components, each sample from its left neighbour, into pairs of
 * samples: four codes to a window of 64 bits, as long as their looks give them whole.
 */
final class PairDecoding {
  private final LosslessJpeg jpeg;
  private final int[] careful = new int[2];

  /**
   * @param jpeg one that {@link LosslessHeader#isPaired}
   */
  PairDecoding(LosslessJpeg jpeg) {
    this.jpeg = jpeg;
  }

  /** As {@link LosslessJpeg#decodePairs(int[], int, int, IntConsumer)}. */
  void decode(int[] into, int to, int stride, IntConsumer reached) throws DamagedData {
    byte[] codes = jpeg.codes().bytes();
    int limit = jpeg.codes().lastWindow();
    int[] looks = jpeg.table(0).look;
    int[] otherLooks = jpeg.table(1).look;
    int width = jpeg.width();
    int height = jpeg.height();
    int one = 1 << jpeg.precision() - 1;
    int other = one;
    long window = 0;
    int held = 0;
    int next = 0;
    for (int y = 0; y < height; y++) {
      int at = to + y * stride;
      if (y > 0) {
        one = into[at - stride];
        other = into[at - stride] >>> 16;
      }
      int end = at + width;
      int i = at;
      while (i < end) {
        // Four looks take 48 bits at most, and there are 56 or more.
        window |= (long) ScanCodes.LONGS.get(codes, next) >>> held;
        next = Math.min(next + (63 - held >> 3), limit);
        held |= 56;
        int a = looks[(int) (window >>> HuffmanTable.LOOK_SHIFT)];
        long rest = window << a;
        int b = otherLooks[(int) (rest >>> HuffmanTable.LOOK_SHIFT)];
        rest <<= b;
        int c = looks[(int) (rest >>> HuffmanTable.LOOK_SHIFT)];
        rest <<= c;
        int d = otherLooks[(int) (rest >>> HuffmanTable.LOOK_SHIFT)];
        if (((a | b | c | d) & HuffmanTable.SHORT) == 0 && i + 1 < end) {
          window = rest << d;
          held -= a + b + c + d & HuffmanTable.USED;
          one += a >> HuffmanTable.DIFFERENCE_SHIFT;
          other += b >> HuffmanTable.DIFFERENCE_SHIFT;
          into[i] = one & 0xffff | other << 16;
          one += c >> HuffmanTable.DIFFERENCE_SHIFT;
          other += d >> HuffmanTable.DIFFERENCE_SHIFT;
          into[i + 1] = one & 0xffff | other << 16;
          i += 2;
        } else {
          long position = entries(jpeg, 8L * next - held, careful);
          one += careful[0] >> HuffmanTable.DIFFERENCE_SHIFT;
          other += careful[1] >> HuffmanTable.DIFFERENCE_SHIFT;
          into[i++] = one & 0xffff | other << 16;
          next = (int) Math.min(position >> 3, limit);
          int passed = (int) (position & 7);
          window = (long) ScanCodes.LONGS.get(codes, next) << passed;
          next = Math.min(next + 7, limit);
          held = 56 - passed;
        }
      }
      jpeg.codes().check(8L * next - held);
      reached.accept(y + 1);
    }
  }

  /**
   * Entries of the next codes, long ones among them, of the components in turn.
   *
   * @param start bits of the codes that were taken before
   * @return bits that are then taken
   */
  static long entries(LosslessJpeg jpeg, long start, int[] into) throws DamagedData {
    long position = start;
    for (int i = 0; i < into.length; i++) {
      into[i] = jpeg.table(i & 1).entry(jpeg.codes().window(position));
      position += into[i] & HuffmanTable.USED;
    }
    return position;
  }
}

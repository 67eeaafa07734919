package org.scenespan.folder.codec;

/**
 * Decodes two lossless JPEGs of one shape at the same time on one thread: where each code begins is
 * known only when the one before it is read, and while one picture waits for that, the other goes
 * on.
 */
final class TwinDecoding {
  private final LosslessJpeg left;
  private final LosslessJpeg right;
  private final int[] careful = new int[4];

  /** Both {@link LosslessHeader#isPaired} and of one size. */
  TwinDecoding(LosslessJpeg left, LosslessJpeg right) {
    this.left = left;
    this.right = right;
  }

  /** As {@link LosslessJpeg#decodePairs}, each picture to a place of its own. */
  void decode(int[] into, int leftTo, int rightTo, int stride) throws DamagedData {
    byte[] codes = left.codes().bytes();
    byte[] rightCodes = right.codes().bytes();
    int limit = left.codes().lastWindow();
    int rightLimit = right.codes().lastWindow();
    int[] looks = left.table(0).look;
    int[] otherLooks = left.table(1).look;
    int[] rightLooks = right.table(0).look;
    int[] rightOtherLooks = right.table(1).look;
    int one = 1 << left.precision() - 1;
    int other = one;
    int rightOne = 1 << right.precision() - 1;
    int rightOther = rightOne;
    long window = 0;
    long rightWindow = 0;
    int held = 0;
    int rightHeld = 0;
    int next = 0;
    int rightNext = 0;
    int width = left.width();
    int apart = rightTo - leftTo;
    for (int y = 0; y < left.height(); y++) {
      int at = leftTo + y * stride;
      if (y > 0) {
        one = into[at - stride];
        other = into[at - stride] >>> 16;
        rightOne = into[at - stride + apart];
        rightOther = into[at - stride + apart] >>> 16;
      }
      int end = at + width;
      for (int i = at; i < end; i += 2) {
        // Four looks take 48 bits at most.
        window |= (long) ScanCodes.LONGS.get(codes, next) >>> held;
        rightWindow |= (long) ScanCodes.LONGS.get(rightCodes, rightNext) >>> rightHeld;
        next = Math.min(next + (63 - held >> 3), limit);
        rightNext = Math.min(rightNext + (63 - rightHeld >> 3), rightLimit);
        held |= 56;
        rightHeld |= 56;
        int a = looks[(int) (window >>> HuffmanTable.LOOK_SHIFT)];
        int e = rightLooks[(int) (rightWindow >>> HuffmanTable.LOOK_SHIFT)];
        long rest = window << a;
        long rightRest = rightWindow << e;
        int b = otherLooks[(int) (rest >>> HuffmanTable.LOOK_SHIFT)];
        int f = rightOtherLooks[(int) (rightRest >>> HuffmanTable.LOOK_SHIFT)];
        rest <<= b;
        rightRest <<= f;
        int c = looks[(int) (rest >>> HuffmanTable.LOOK_SHIFT)];
        int g = rightLooks[(int) (rightRest >>> HuffmanTable.LOOK_SHIFT)];
        rest <<= c;
        rightRest <<= g;
        int d = otherLooks[(int) (rest >>> HuffmanTable.LOOK_SHIFT)];
        int h = rightOtherLooks[(int) (rightRest >>> HuffmanTable.LOOK_SHIFT)];
        if (((a | b | c | d) & HuffmanTable.SHORT) == 0) {
          window = rest << d;
          held -= a + b + c + d & HuffmanTable.USED;
        } else {
          long position = PairDecoding.entries(left, 8L * next - held, careful);
          a = careful[0];
          b = careful[1];
          c = careful[2];
          d = careful[3];
          int passed = (int) (position & 7);
          next = (int) Math.min(position >> 3, limit);
          window = (long) ScanCodes.LONGS.get(codes, next) << passed;
          next = Math.min(next + 7, limit);
          held = 56 - passed;
        }
        if (((e | f | g | h) & HuffmanTable.SHORT) == 0) {
          rightWindow = rightRest << h;
          rightHeld -= e + f + g + h & HuffmanTable.USED;
        } else {
          long position = PairDecoding.entries(right, 8L * rightNext - rightHeld, careful);
          e = careful[0];
          f = careful[1];
          g = careful[2];
          h = careful[3];
          int passed = (int) (position & 7);
          rightNext = (int) Math.min(position >> 3, rightLimit);
          rightWindow = (long) ScanCodes.LONGS.get(rightCodes, rightNext) << passed;
          rightNext = Math.min(rightNext + 7, rightLimit);
          rightHeld = 56 - passed;
        }
        one += a >> HuffmanTable.DIFFERENCE_SHIFT;
        other += b >> HuffmanTable.DIFFERENCE_SHIFT;
        into[i] = one & 0xffff | other << 16;
        one += c >> HuffmanTable.DIFFERENCE_SHIFT;
        other += d >> HuffmanTable.DIFFERENCE_SHIFT;
        into[i + 1] = one & 0xffff | other << 16;
        rightOne += e >> HuffmanTable.DIFFERENCE_SHIFT;
        rightOther += f >> HuffmanTable.DIFFERENCE_SHIFT;
        into[i + apart] = rightOne & 0xffff | rightOther << 16;
        rightOne += g >> HuffmanTable.DIFFERENCE_SHIFT;
        rightOther += h >> HuffmanTable.DIFFERENCE_SHIFT;
        into[i + 1 + apart] = rightOne & 0xffff | rightOther << 16;
      }
      left.codes().check(8L * next - held);
      right.codes().check(8L * rightNext - rightHeld);
    }
  }
}

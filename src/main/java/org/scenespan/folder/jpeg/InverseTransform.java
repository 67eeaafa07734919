package org.scenespan.folder.jpeg;

import java.util.Arrays;

/**
 * The inverse cosine transform of many blocks at once (T.81, A.3.3), a coefficient's values of all
 * blocks side by side. Not for sharing between threads.
 *
 * <p>The factorisation is that of Loeffler, Ligtenberg and Moschytz (ICASSP 1989) in integers as
 * libjpeg's accurate transform has it: constants of 13 bits, and two more bits than the samples
 * kept between the passes. Integer sums are the same in any order, so the odd part is multiplied
 * out, and each rounding is where libjpeg has it.
 *
 * <p>The loops are as short as they are, with at most two arrays to store into, because the
 * compiler of JDK 17 makes vector instructions of no longer ones.
 */
final class InverseTransform {
  /** Blocks at once: coefficients and results of so many fill 32 KiB, a small first-level cache. */
  static final int BATCH = 64;

  private static final int LINE = 8 * BATCH;

  /** Of a batch, row by row: those of row v and column u at {@code (8 v + u) * BATCH} and on. */
  static final int COEFFICIENTS = 8 * LINE;

  private static final int CONSTANT_BITS = 13;
  private static final int EXTRA_BITS = 2;
  private static final int FIRST_SHIFT = CONSTANT_BITS - EXTRA_BITS;
  private static final int FIRST_ROUND = 1 << FIRST_SHIFT - 1;

  /** Two passes each leave a factor of the square root of 8. */
  private static final int SECOND_SHIFT = CONSTANT_BITS + EXTRA_BITS + 3;

  private static final int LEVEL = 128;

  /** Rounds, and puts the middle of the codes at 128, in one addition. */
  private static final int SECOND_ROUND = (1 << SECOND_SHIFT - 1) + (LEVEL << SECOND_SHIFT);

  // The paper's rotations times 2^13, rounded before they are added up.
  private static final int C_0_298631336 = 2446;
  private static final int C_0_390180644 = 3196;
  private static final int C_0_541196100 = 4433;
  private static final int C_0_765366865 = 6270;
  private static final int C_0_899976223 = 7373;
  private static final int C_1_175875602 = 9633;
  private static final int C_1_501321110 = 12299;
  private static final int C_1_847759065 = 15137;
  private static final int C_1_961570560 = 16069;
  private static final int C_2_053119869 = 16819;
  private static final int C_2_562915447 = 20995;
  private static final int C_3_072711026 = 25172;

  private static final int LEVEL_FACTOR = 1 << CONSTANT_BITS;
  private static final int EVEN_2 = C_0_541196100 + C_0_765366865;
  private static final int EVEN_6 = C_0_541196100;
  private static final int EVEN_TURNED_2 = C_0_541196100;
  private static final int EVEN_TURNED_6 = C_0_541196100 - C_1_847759065;
  private static final int A = C_1_175875602;
  private static final int A_B = C_1_175875602 - C_0_390180644;
  private static final int A_C = C_1_175875602 - C_1_961570560;
  private static final int D = C_1_175875602 - C_0_899976223;
  private static final int E = C_1_175875602 - C_2_562915447;
  private static final int OWN_7 = C_0_298631336 - C_0_899976223 + A_C;
  private static final int OWN_5 = C_2_053119869 - C_2_562915447 + A_B;
  private static final int OWN_3 = C_3_072711026 - C_2_562915447 + A_C;
  private static final int OWN_1 = C_1_501321110 - C_0_899976223 + A_B;

  private final int[] turned = new int[COEFFICIENTS];
  private final int[][] results = new int[8][LINE];
  private final int[][] fours = new int[2][LINE];
  private final int[][] twos = new int[4][LINE];
  private final int[] sums = new int[LINE];

  /** Adds up the amounts of each block's coefficients. */
  void amounts(int[] coefficients, int[] into) {
    amounts(coefficients);
    Arrays.fill(into, 0);
    for (int u = 0; u < LINE; u += BATCH) {
      for (int i = 0; i < BATCH; i++) {
        into[i] += sums[u + i];
      }
    }
  }

  private void amounts(int[] x) {
    int[] into = sums;
    for (int i = 0; i < LINE; i++) {
      into[i] =
          Math.abs(x[i])
              + Math.abs(x[i + LINE])
              + Math.abs(x[i + 2 * LINE])
              + Math.abs(x[i + 3 * LINE]);
    }
    for (int i = 0; i < LINE; i++) {
      into[i] +=
          Math.abs(x[i + 4 * LINE])
              + Math.abs(x[i + 5 * LINE])
              + Math.abs(x[i + 6 * LINE])
              + Math.abs(x[i + 7 * LINE]);
    }
  }

  /**
   * Transforms all blocks of the batch.
   *
   * @param coefficients {@value #COEFFICIENTS} of them, multiplied by their quantisation
   * @param each samples to a number: 4 of 8 bits or 2 of 16
   * @return samples, 0 to 255, from the lowest bits on: those of columns 0 to {@code each - 1} of
   *     the blocks in the first array, of the next ones in the second and so on, at {@code y *
   *     BATCH} and on those of row y; they stay until the next call
   */
  int[][] run(int[] coefficients, int each) {
    pass(coefficients, FIRST_ROUND, FIRST_SHIFT);
    for (int v = 0; v < 8; v++) {
      for (int u = 0; u < 8; u++) {
        System.arraycopy(results[v], u * BATCH, turned, (8 * u + v) * BATCH, BATCH);
      }
    }
    pass(turned, SECOND_ROUND, SECOND_SHIFT);
    for (int[] line : results) {
      clamp(line);
    }
    if (each == 4) {
      pack(results[0], results[1], results[2], results[3], fours[0]);
      pack(results[4], results[5], results[6], results[7], fours[1]);
      return fours;
    }
    for (int i = 0; i < twos.length; i++) {
      pack(results[2 * i], results[2 * i + 1], twos[i]);
    }
    return twos;
  }

  private static void pack(int[] a, int[] b, int[] c, int[] d, int[] into) {
    for (int i = 0; i < LINE; i++) {
      into[i] = a[i] | b[i] << 8 | c[i] << 16 | d[i] << 24;
    }
  }

  private static void pack(int[] a, int[] b, int[] into) {
    for (int i = 0; i < LINE; i++) {
      into[i] = a[i] | b[i] << 16;
    }
  }

  private void pass(int[] x, int round, int shift) {
    int[][] y = results;
    even(x, LEVEL_FACTOR, EVEN_2, EVEN_6, round, y[0], y[3]);
    even(x, -LEVEL_FACTOR, EVEN_TURNED_2, EVEN_TURNED_6, round, y[1], y[2]);
    odd(x, OWN_1, A, A_B, D, y[7]);
    odd(x, A, OWN_3, E, A_C, y[6]);
    odd(x, A_B, E, OWN_5, A, y[5]);
    odd(x, D, A_C, A, OWN_7, y[4]);
    for (int i = 0; i < 4; i++) {
      combine(y[i], y[7 - i], shift);
    }
  }

  private static void even(int[] x, int c4, int c2, int c6, int round, int[] s, int[] t) {
    for (int i = 0; i < LINE; i++) {
      int turned = x[i + 2 * LINE] * c2 + x[i + 6 * LINE] * c6;
      int level = x[i] * LEVEL_FACTOR + x[i + 4 * LINE] * c4 + round;
      s[i] = level + turned;
      t[i] = level - turned;
    }
  }

  private static void odd(int[] x, int c1, int c3, int c5, int c7, int[] s) {
    for (int i = 0; i < LINE; i++) {
      s[i] = x[i + LINE] * c1 + x[i + 3 * LINE] * c3 + x[i + 5 * LINE] * c5 + x[i + 7 * LINE] * c7;
    }
  }

  private static void combine(int[] even, int[] odd, int shift) {
    for (int i = 0; i < LINE; i++) {
      int s = even[i];
      int o = odd[i];
      even[i] = s + o >> shift;
      odd[i] = s - o >> shift;
    }
  }

  /** Below 0 to 0, above 255 to 255, without a branch. */
  private static void clamp(int[] line) {
    for (int i = 0; i < LINE; i++) {
      int y = line[i];
      line[i] = (y & ~(y >> 31) | 255 - y >> 31) & 255;
    }
  }
}

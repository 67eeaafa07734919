package org.scenespan.proof;

import java.util.stream.IntStream;

/**
 * One channel of a picture and its steps through a Gaussian pyramid (Burt &amp; Adelson, "The
 * Laplacian Pyramid as a Compact Image Code", IEEE Transactions on Communications 31, 1983), with
 * the weights 1 4 6 4 1 and the picture mirrored about its edge pixels.
 *
 * @param values rows from the top; shared, not copied
 */
record Plane(int width, int height, float[] values) {
  static Plane empty(int width, int height) {
    return new Plane(width, height, new float[width * height]);
  }

  /** The next level: half the size, rounded up. */
  Plane reduced() {
    Plane half = empty((width + 1) / 2, (height + 1) / 2);
    IntStream.range(0, half.height).parallel().forEach(y -> reduceRow(y, half));
    return half;
  }

  private void reduceRow(int y, Plane half) {
    float[] column = new float[width];
    int a = width * mirrored(2 * y - 2, height);
    int b = width * mirrored(2 * y - 1, height);
    int c = width * (2 * y);
    int d = width * mirrored(2 * y + 1, height);
    int e = width * mirrored(2 * y + 2, height);
    for (int x = 0; x < width; x++) {
      column[x] =
          values[a + x] + values[e + x] + 4 * (values[b + x] + values[d + x]) + 6 * values[c + x];
    }
    int at = half.width * y;
    for (int x = 0; x < half.width; x++) {
      half.values[at + x] =
          (column[mirrored(2 * x - 2, width)]
                  + column[mirrored(2 * x + 2, width)]
                  + 4 * (column[mirrored(2 * x - 1, width)] + column[mirrored(2 * x + 1, width)])
                  + 6 * column[2 * x])
              / 256;
    }
  }

  private static int mirrored(int at, int size) {
    if (size == 1) {
      return 0;
    }
    int period = 2 * (size - 1);
    int folded = Math.floorMod(at, period);
    return folded < size ? folded : period - folded;
  }

  /** What is done with a pixel of a bigger level and the value that the smaller one predicts. */
  interface Step {
    void at(int index, float predicted);
  }

  /**
   * Predicts the bigger level from this one, pixel by pixel, from several threads at once.
   *
   * @param big the size of the bigger level
   */
  void expand(Plane big, Step step) {
    IntStream.range(0, big.height).parallel().forEach(y -> expandRow(y, big, step));
  }

  private void expandRow(int y, Plane big, Step step) {
    float[] column = new float[width];
    int row = y / 2;
    int middle = width * row;
    int above = width * (row == 0 ? Math.min(1, height - 1) : row - 1);
    int below = width * Math.min(row + 1, height - 1);
    for (int x = 0; x < width; x++) {
      column[x] =
          (y & 1) == 0
              ? (values[above + x] + 6 * values[middle + x] + values[below + x]) / 8
              : (values[middle + x] + values[below + x]) / 2;
    }
    int at = big.width * y;
    for (int x = 0; x < big.width; x++) {
      int k = x / 2;
      float next = column[Math.min(k + 1, width - 1)];
      float predicted;
      if ((x & 1) == 0) {
        float before = column[k == 0 ? Math.min(1, width - 1) : k - 1];
        predicted = (before + 6 * column[k] + next) / 8;
      } else {
        predicted = (column[k] + next) / 2;
      }
      step.at(at + x, predicted);
    }
  }
}

package org.scenespan.folder;

import java.io.ByteArrayOutputStream;
import java.util.Arrays;

/**
 * Writes lossless Huffman JPEG (ITU-T T.81, annex H) for tests: a table made for the picture, any
 * predictor, restart marks between rows.
 */
final class LosslessJpegWriter {
  private final int[] samples;
  private final int width;
  private final int height;
  private final int components;
  private final int precision;
  private int predictor = 1;
  private int restartRows;
  private int pointTransform;

  private final ByteArrayOutputStream out = new ByteArrayOutputStream();
  private long buffer;
  private int buffered;

  /**
   * @param samples row by row, the components of a pixel side by side
   */
  LosslessJpegWriter(int[] samples, int width, int height, int components, int precision) {
    this.samples = samples;
    this.width = width;
    this.height = height;
    this.components = components;
    this.precision = precision;
  }

  LosslessJpegWriter predictor(int kind) {
    this.predictor = kind;
    return this;
  }

  LosslessJpegWriter restartEvery(int rows) {
    this.restartRows = rows;
    return this;
  }

  LosslessJpegWriter pointTransform(int bits) {
    this.pointTransform = bits;
    return this;
  }

  byte[] bytes() {
    int[] differences = differences();
    long[] frequencies = new long[18];
    for (int difference : differences) {
      frequencies[category(difference)]++;
    }
    frequencies[17] = 1;
    int[] lengths = lengths(frequencies);
    int[] codes = new int[17];
    marker(0xd8);
    segment(0xc3, frame());
    segment(0xc4, table(lengths, codes));
    if (restartRows > 0) {
      segment(0xdd, new int[] {restartRows * width >> 8, restartRows * width & 0xff});
    }
    segment(0xda, scan());
    write(differences, lengths, codes);
    marker(0xd9);
    return out.toByteArray();
  }

  private int at(int x, int y, int c) {
    return samples[(y * width + x) * components + c] >> pointTransform;
  }

  private int[] differences() {
    int[] differences = new int[samples.length];
    for (int y = 0, i = 0; y < height; y++) {
      boolean first = y == 0 || restartRows > 0 && y % restartRows == 0;
      for (int x = 0; x < width; x++) {
        for (int c = 0; c < components; c++, i++) {
          int predicted;
          if (x == 0) {
            predicted = first ? 1 << precision - pointTransform - 1 : at(0, y - 1, c);
          } else {
            int a = at(x - 1, y, c);
            int b = first ? 0 : at(x, y - 1, c);
            int d = first ? 0 : at(x - 1, y - 1, c);
            predicted =
                switch (first ? 1 : predictor) {
                  case 1 -> a;
                  case 2 -> b;
                  case 3 -> d;
                  case 4 -> a + b - d;
                  case 5 -> a + (b - d >> 1);
                  case 6 -> b + (a - d >> 1);
                  default -> a + b >> 1;
                };
          }
          differences[i] = (short) (at(x, y, c) - predicted);
        }
      }
    }
    return differences;
  }

  private static int category(int difference) {
    return difference == -32768 ? 16 : 32 - Integer.numberOfLeadingZeros(Math.abs(difference));
  }

  /** Huffman's own construction; the eighteenth symbol keeps the code of all ones free. */
  private static int[] lengths(long[] frequencies) {
    int[] lengths = new int[18];
    long[] weights = new long[18];
    int[] tree = new int[18];
    for (int i = 0; i < 18; i++) {
      weights[i] = Math.max(1, frequencies[i]);
      tree[i] = i;
    }
    for (int merges = 0; merges < 17; merges++) {
      int least = -1;
      int second = -1;
      for (int i = 0; i < 18; i++) {
        if (weights[i] == 0) {
          continue;
        }
        if (least < 0 || weights[i] <= weights[least]) {
          second = least;
          least = i;
        } else if (second < 0 || weights[i] <= weights[second]) {
          second = i;
        }
      }
      for (int i = 0; i < 18; i++) {
        if (tree[i] == tree[least] || tree[i] == tree[second]) {
          lengths[i]++;
        }
      }
      int from = tree[second];
      for (int i = 0; i < 18; i++) {
        tree[i] = tree[i] == from ? tree[least] : tree[i];
      }
      weights[least] += weights[second];
      weights[second] = 0;
      for (int i = 0; i < 18; i++) {
        if (i != least && tree[i] == tree[least] && weights[i] > 0) {
          throw new IllegalStateException("two heads of one tree");
        }
      }
    }
    // The reserved symbol takes the place of the longest code, whose last is all ones.
    int longest = Arrays.stream(lengths).max().orElseThrow();
    if (longest > 16) {
      Arrays.fill(lengths, 5);
      return lengths;
    }
    for (int i = 0; i < 17; i++) {
      if (lengths[i] == longest && lengths[17] < longest) {
        int swapped = lengths[17];
        lengths[17] = longest;
        lengths[i] = swapped;
        break;
      }
    }
    return lengths;
  }

  private int[] frame() {
    int[] frame = new int[6 + 3 * components];
    frame[0] = precision;
    frame[1] = height >> 8;
    frame[2] = height & 0xff;
    frame[3] = width >> 8;
    frame[4] = width & 0xff;
    frame[5] = components;
    for (int c = 0; c < components; c++) {
      frame[6 + 3 * c] = c + 1;
      frame[7 + 3 * c] = 0x11;
    }
    return frame;
  }

  private static int[] table(int[] lengths, int[] codes) {
    int[] table = new int[1 + 16 + 17];
    int code = 0;
    int next = 17;
    for (int length = 1; length <= 16; length++) {
      for (int symbol = 0; symbol < 17; symbol++) {
        if (lengths[symbol] == length) {
          table[length]++;
          table[next++] = symbol;
          codes[symbol] = code++;
        }
      }
      code <<= 1;
    }
    return table;
  }

  private int[] scan() {
    int[] scan = new int[4 + 2 * components];
    scan[0] = components;
    for (int c = 0; c < components; c++) {
      scan[1 + 2 * c] = c + 1;
    }
    scan[1 + 2 * components] = predictor;
    scan[3 + 2 * components] = pointTransform;
    return scan;
  }

  private void write(int[] differences, int[] lengths, int[] codes) {
    int row = width * components;
    for (int i = 0; i < differences.length; i++) {
      if (restartRows > 0 && i > 0 && i % row == 0 && i / row % restartRows == 0) {
        flush();
        marker(0xd0 + (i / row / restartRows - 1) % 8);
      }
      int kind = category(differences[i]);
      put(codes[kind], lengths[kind]);
      if (kind > 0 && kind < 16) {
        int bits = differences[i] < 0 ? differences[i] - 1 : differences[i];
        put(bits & (1 << kind) - 1, kind);
      }
    }
    flush();
  }

  private void put(int bits, int count) {
    buffer = buffer << count | bits;
    buffered += count;
    while (buffered >= 8) {
      buffered -= 8;
      int value = (int) (buffer >> buffered) & 0xff;
      out.write(value);
      if (value == 0xff) {
        out.write(0);
      }
    }
  }

  private void flush() {
    if (buffered > 0) {
      put((1 << 8 - buffered) - 1, 8 - buffered);
    }
  }

  private void marker(int kind) {
    out.write(0xff);
    out.write(kind);
  }

  private void segment(int kind, int[] content) {
    marker(kind);
    out.write(content.length + 2 >> 8);
    out.write(content.length + 2 & 0xff);
    for (int value : content) {
      out.write(value);
    }
  }
}

package org.scenespan.folder;

import java.io.ByteArrayOutputStream;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Random;

/**
 * Writes baseline JPEG files of random coefficients (ITU-T T.81): every sampling, size, restart
 * interval, and codes of up to 16 bits, which picture encoders hardly write.
 */
final class CodedJpeg {
  /** T.81, tables K.3 and K.5: codes of each length from 1 on. [memory] */
  private static final int[] DC_COUNTS = {0, 1, 5, 1, 1, 1, 1, 1, 1, 0, 0, 0, 0, 0, 0, 0};

  private static final int[] AC_COUNTS = {0, 2, 1, 3, 3, 2, 4, 3, 5, 5, 4, 4, 0, 0, 1, 125};

  private final int width;
  private final int height;
  private final int[] across;
  private final int[] down;
  private final int restartInterval;
  private final double density;
  private final Random random;
  private final int[] dcSymbols = new int[12];
  private final int[] acSymbols;
  private final int[] dcCodes = new int[256];
  private final int[] acCodes = new int[256];
  private final int[] quantisation = new int[65];
  private final ByteArrayOutputStream out = new ByteArrayOutputStream();
  private long bits;
  private int held;

  private CodedJpeg(
      int width,
      int height,
      int[] across,
      int[] down,
      int restartInterval,
      double density,
      int seed) {
    this.width = width;
    this.height = height;
    this.across = across;
    this.down = down;
    this.restartInterval = restartInterval;
    this.density = density;
    this.random = new Random(seed);
    for (int size = 0; size < 12; size++) {
      dcSymbols[size] = size;
    }
    List<Integer> symbols = new ArrayList<>(List.of(0, 0xf0));
    for (int run = 0; run < 16; run++) {
      for (int size = 1; size <= 10; size++) {
        symbols.add(run << 4 | size);
      }
    }
    symbols.sort(Comparator.comparingInt(symbol -> (symbol >> 4) + 2 * (symbol & 15)));
    acSymbols = symbols.stream().mapToInt(symbol -> symbol).toArray();
  }

  /**
   * @param sampling {@code grey}, or pixels across and down to a sample of chroma: {@code 1x1},
   *     {@code 2x1}, {@code 2x2}, {@code 1x2}
   * @param restartInterval units, 0 for no markers
   * @param density share of coefficients that are not zero, of the lowest frequencies
   */
  static byte[] write(
      int width, int height, String sampling, int restartInterval, double density, int seed) {
    boolean grey = sampling.equals("grey");
    int a = grey ? 1 : sampling.charAt(0) - '0';
    int d = grey ? 1 : sampling.charAt(2) - '0';
    int[] across = grey ? new int[] {1} : new int[] {a, 1, 1};
    int[] down = grey ? new int[] {1} : new int[] {d, 1, 1};
    return new CodedJpeg(width, height, across, down, restartInterval, density, seed).file();
  }

  private byte[] file() {
    segment(0xd8);
    segment(0xe0, 'J', 'F', 'I', 'F', 0, 1, 2, 0, 0, 1, 0, 1, 0, 0);
    for (int k = 1; k <= 64; k++) {
      quantisation[k] = 1 + random.nextInt(2 + k / 4);
    }
    segment(0xdb, quantisation);
    table(0x00, DC_COUNTS, dcSymbols, dcCodes);
    table(0x10, AC_COUNTS, acSymbols, acCodes);
    int[] frame = new int[6 + 3 * across.length];
    int[] scan = new int[4 + 2 * across.length];
    frame[0] = 8;
    frame[1] = height >> 8;
    frame[2] = height & 255;
    frame[3] = width >> 8;
    frame[4] = width & 255;
    frame[5] = across.length;
    scan[0] = across.length;
    for (int c = 0; c < across.length; c++) {
      frame[6 + 3 * c] = c + 1;
      frame[7 + 3 * c] = across[c] << 4 | down[c];
      scan[1 + 2 * c] = c + 1;
    }
    scan[2 + 2 * across.length] = 63;
    segment(0xc0, frame);
    if (restartInterval > 0) {
      segment(0xdd, restartInterval >> 8, restartInterval & 255);
    }
    segment(0xda, scan);
    units();
    segment(0xd9);
    return out.toByteArray();
  }

  private void units() {
    int columns = (width + 8 * across[0] - 1) / (8 * across[0]);
    int rows = (height + 8 * down[0] - 1) / (8 * down[0]);
    int[] dc = new int[across.length];
    for (int unit = 0; unit < columns * rows; unit++) {
      if (restartInterval > 0 && unit > 0 && unit % restartInterval == 0) {
        fill();
        segment(0xd0 + (unit / restartInterval - 1) % 8);
        dc = new int[across.length];
      }
      for (int c = 0; c < across.length; c++) {
        for (int i = 0; i < across[c] * down[c]; i++) {
          dc[c] = block(dc[c]);
        }
      }
    }
    fill();
  }

  private int block(int before) {
    int most = 900 / quantisation[1];
    int dc = before + (int) (random.nextGaussian() * 60 / quantisation[1]);
    dc = Math.max(-most, Math.min(most, dc));
    value(dcCodes, 0, dc - before);
    int run = 0;
    for (int k = 1; k < 64; k++) {
      int value =
          random.nextDouble() < density * 16 / (16 + k)
              ? (int) (random.nextGaussian() * amount(k) / quantisation[k + 1])
              : 0;
      value = Math.max(-1000, Math.min(1000, value));
      if (value == 0) {
        run++;
        continue;
      }
      for (; run > 15; run -= 16) {
        put(acCodes[0xf0]);
      }
      value(acCodes, run, value);
      run = 0;
    }
    if (run > 0) {
      put(acCodes[0]);
    }
    return dc;
  }

  /** Mostly as small as in photographs, now and then what a sharp edge has. */
  private double amount(int k) {
    return random.nextInt(40) == 0 ? 200 : 30 + 300.0 / (k + 2);
  }

  private void value(int[] codes, int run, int value) {
    int size = 32 - Integer.numberOfLeadingZeros(Math.abs(value));
    put(codes[run << 4 | size]);
    put(size << 16 | (value < 0 ? value - 1 : value) & (1 << size) - 1);
  }

  /** A code's length stands in its upper half. */
  private void put(int code) {
    int length = code >> 16;
    bits = bits << length | code & 0xffff;
    held += length;
    while (held >= 8) {
      held -= 8;
      int octet = (int) (bits >> held) & 255;
      out.write(octet);
      if (octet == 255) {
        out.write(0);
      }
    }
  }

  private void fill() {
    if (held > 0) {
      put((8 - held) << 16 | (1 << 8 - held) - 1);
    }
  }

  private void table(int number, int[] counts, int[] symbols, int[] codes) {
    int[] content = new int[17 + symbols.length];
    content[0] = number;
    System.arraycopy(counts, 0, content, 1, 16);
    System.arraycopy(symbols, 0, content, 17, symbols.length);
    segment(0xc4, content);
    int code = 0;
    int next = 0;
    for (int length = 1; length <= 16; length++) {
      for (int i = 0; i < counts[length - 1]; i++) {
        codes[symbols[next++]] = length << 16 | code++;
      }
      code <<= 1;
    }
  }

  private void segment(int marker, int... content) {
    out.write(255);
    out.write(marker);
    if (content.length > 0) {
      out.write(content.length + 2 >> 8);
      out.write(content.length + 2 & 255);
      for (int octet : content) {
        out.write(octet);
      }
    }
  }
}

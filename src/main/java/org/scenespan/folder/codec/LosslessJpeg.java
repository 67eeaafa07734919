package org.scenespan.folder.codec;

import java.util.function.IntConsumer;

/**
 * Decodes lossless Huffman-coded JPEG (ITU-T T.81, annex H: process 14), the form in which DNG
 * packs sensor codes: 1 to 4 components side by side, all seven predictors, 2 to 16 bits.
 */
public final class LosslessJpeg {
  private final int width;
  private final int height;
  private final int components;
  private final int precision;
  private final int predictor;
  private final int pointTransform;
  private final int restartInterval;
  private final boolean paired;
  private final HuffmanTable[] tables;
  private final ScanCodes codes;

  private LosslessJpeg(LosslessHeader header, ScanCodes codes) {
    this.width = header.width;
    this.height = header.height;
    this.components = header.components;
    this.precision = header.precision;
    this.predictor = header.predictor;
    this.pointTransform = header.pointTransform;
    this.restartInterval = header.restartInterval;
    this.paired = header.isPaired();
    this.tables = header.used;
    this.codes = codes;
  }

  /**
   * Reads the header and sets the scan's codes ready.
   *
   * @param data begins with the start mark
   */
  public static LosslessJpeg of(byte[] data, int length) throws DamagedData {
    LosslessHeader header = LosslessHeader.of(data, length);
    return of(header, new byte[header.roomBytes()]);
  }

  /**
   * Sets the codes behind a header ready, in the header's data as they still are.
   *
   * @param room of {@link LosslessHeader#roomBytes} at least; not to be changed until the picture
   *     is decoded
   */
  public static LosslessJpeg of(LosslessHeader header, byte[] room) {
    return new LosslessJpeg(header, ScanCodes.of(header.data, header.scan, header.length, room));
  }

  /** Samples of a row, of all components together. */
  public int rowSamples() {
    return width * components;
  }

  public int width() {
    return width;
  }

  public int height() {
    return height;
  }

  public int components() {
    return components;
  }

  /** Bits of a sample. */
  public int precision() {
    return precision;
  }

  /**
   * Decodes the picture, row after row, the components of a pixel side by side.
   *
   * @param into takes {@link #rowSamples} times {@link #height} samples from its start
   */
  public void decode(short[] into) throws DamagedData {
    int samples = rowSamples();
    long bit = 0;
    int restart = 0;
    int rowsLeft = restartRows();
    boolean first = true;
    for (int y = 0; y < height; y++) {
      if (rowsLeft == 0) {
        bit = codes.restart(restart++);
        rowsLeft = restartRows();
        first = true;
      }
      rowsLeft--;
      int at = y * samples;
      int kind = first ? 1 : predictor;
      int above = at - samples;
      for (int c = 0; c < components; c++) {
        into[at + c] = first ? (short) (1 << precision - pointTransform - 1) : into[above + c];
      }
      bit = kind == 1 ? rowFromLeft(into, at, bit) : rowFromAbove(into, at, above, kind, bit);
      codes.check(bit);
      first = false;
    }
    if (pointTransform > 0) {
      for (int i = 0; i < samples * height; i++) {
        into[i] <<= pointTransform;
      }
    }
  }

  /**
   * Decodes a picture that {@link LosslessHeader#isPaired} into pairs of samples, the first
   * component's in the low 16 bits.
   *
   * @param into takes rows of {@link #width} pairs
   * @param to where the first row begins
   * @param stride pairs from the start of a row to that of the next
   */
  public void decodePairs(int[] into, int to, int stride) throws DamagedData {
    decodePairs(into, to, stride, rows -> {});
  }

  /**
   * As {@link #decodePairs(int[], int, int)}, and tells how far it is.
   *
   * @param reached is told after each row how many there are
   */
  public void decodePairs(int[] into, int to, int stride, IntConsumer reached) throws DamagedData {
    new PairDecoding(this).decode(into, to, stride, reached);
  }

  /** Whether another picture has the same shape, so that both can be decoded at a time. */
  public boolean isTwin(LosslessJpeg other) {
    return paired
        && other.paired
        && width == other.width
        && height == other.height
        && width % 2 == 0;
  }

  /**
   * Decodes this picture and a twin of it at the same time, which takes less time than one after
   * the other.
   *
   * @param to where this picture's first row begins, see {@link #decodePairs}
   * @param twinTo where the other's first row begins
   */
  public void decodePairs(LosslessJpeg twin, int[] into, int to, int twinTo, int stride)
      throws DamagedData {
    new TwinDecoding(this, twin).decode(into, to, twinTo, stride);
  }

  ScanCodes codes() {
    return codes;
  }

  HuffmanTable table(int component) {
    return tables[component];
  }

  /** Rows between two restart marks; −1 where there are none. */
  private int restartRows() {
    return restartInterval == 0 ? -1 : restartInterval / width;
  }

  /** Each sample from its left neighbour; the first of a row from what stands in its place. */
  private long rowFromLeft(short[] into, int at, long bit) throws DamagedData {
    long position = bit;
    int[] last = new int[components];
    for (int c = 0; c < components; c++) {
      last[c] = into[at + c];
    }
    int end = at + width * components;
    for (int i = at; i < end; ) {
      for (int c = 0; c < components; c++, i++) {
        int entry = tables[c].entry(codes.window(position));
        position += entry & HuffmanTable.USED;
        last[c] += entry >> HuffmanTable.DIFFERENCE_SHIFT;
        into[i] = (short) last[c];
      }
    }
    return position;
  }

  private long rowFromAbove(short[] into, int at, int above, int kind, long bit)
      throws DamagedData {
    long position = bit;
    for (int x = 0, i = at; x < width; x++) {
      for (int c = 0; c < components; c++, i++) {
        int entry = tables[c].entry(codes.window(position));
        position += entry & HuffmanTable.USED;
        int predicted = x == 0 ? into[i] : predicted(into, i, i - at + above, kind);
        into[i] = (short) (predicted + (entry >> HuffmanTable.DIFFERENCE_SHIFT));
      }
    }
    return position;
  }

  /** T.81, table H.1: a is left, b above, c above on the left. */
  private int predicted(short[] into, int i, int over, int kind) {
    int a = into[i - components] & 0xffff;
    int b = into[over] & 0xffff;
    int c = into[over - components] & 0xffff;
    return switch (kind) {
      case 2 -> b;
      case 3 -> c;
      case 4 -> a + b - c;
      case 5 -> a + (b - c >> 1);
      case 6 -> b + (a - c >> 1);
      default -> a + b >> 1;
    };
  }
}

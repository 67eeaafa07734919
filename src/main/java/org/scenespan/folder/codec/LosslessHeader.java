package org.scenespan.folder.codec;

/**
 * The markers of a lossless JPEG before its scan (ITU-T T.81, annex B): what it is, before its
 * codes are looked at.
 */
public final class LosslessHeader {
  final byte[] data;
  final int length;
  private final HuffmanTable[] defined = new HuffmanTable[4];
  int width;
  int height;
  int components;
  int precision;
  int predictor;
  int pointTransform;
  int restartInterval;
  private final int[] names = new int[4];
  HuffmanTable[] used;

  /** Where the scan's codes begin. */
  int scan;

  private LosslessHeader(byte[] data, int length) {
    this.data = data;
    this.length = length;
  }

  /**
   * Reads the header.
   *
   * @param data begins with the start mark
   */
  public static LosslessHeader of(byte[] data, int length) throws DamagedData {
    LosslessHeader header = new LosslessHeader(data, length);
    header.read();
    return header;
  }

  /** Samples of a row, of all components together. */
  public int rowSamples() {
    return width * components;
  }

  /** Rows of the picture. */
  public int height() {
    return height;
  }

  /** Bytes of the room that {@link LosslessJpeg#of(LosslessHeader, byte[])} takes. */
  public int roomBytes() {
    return length + ScanCodes.PADDING;
  }

  /**
   * Whether {@link LosslessJpeg#decodePairs} takes the picture: two components, each sample from
   * its left neighbour.
   */
  public boolean isPaired() {
    return components == 2 && predictor == 1 && pointTransform == 0 && restartInterval == 0;
  }

  private void read() throws DamagedData {
    if (length < 4 || u16(0) != 0xffd8) {
      throw new DamagedData("it is no lossless JPEG: it does not begin with a start mark");
    }
    int at = 2;
    while (true) {
      if (at + 4 > length || (data[at] & 0xff) != 0xff) {
        throw new DamagedData("the header of its lossless JPEG is damaged");
      }
      int marker = data[at + 1] & 0xff;
      int size = u16(at + 2);
      int end = at + 2 + size;
      if (marker == 0xff) {
        at++;
        continue;
      }
      if (size < 2 || end > length) {
        throw new DamagedData("the header of its lossless JPEG ends too early");
      }
      switch (marker) {
        case 0xc3 -> frame(at + 4, size - 2);
        case 0xc4 -> tables(at + 4, end);
        case 0xdd -> restartInterval = size >= 4 ? u16(at + 4) : 0;
        case 0xda -> {
          scan(at + 4, size - 2);
          scan = end;
          return;
        }
        case 0xc0, 0xc1, 0xc2, 0xc5, 0xc6, 0xc7, 0xc9, 0xca, 0xcb, 0xcd, 0xce, 0xcf ->
            throw new DamagedData("its JPEG is not lossless with Huffman codes");
        default -> {} // APPn, COM: nothing for the samples.
      }
      at = end;
    }
  }

  private void frame(int at, int size) throws DamagedData {
    if (size < 6 || width > 0) {
      throw new DamagedData("the header of its lossless JPEG is damaged");
    }
    precision = data[at] & 0xff;
    height = u16(at + 1);
    width = u16(at + 3);
    components = data[at + 5] & 0xff;
    if (!(precision >= 2 && precision <= 16 && width > 0 && height > 0)) {
      throw new DamagedData("its lossless JPEG has " + precision + " bits or no size");
    }
    if (!(components >= 1 && components <= 4 && size >= 6 + 3 * components)) {
      throw new DamagedData("its lossless JPEG has " + components + " components");
    }
    for (int c = 0; c < components; c++) {
      names[c] = data[at + 6 + 3 * c] & 0xff;
      if (data[at + 7 + 3 * c] != 0x11) {
        throw new DamagedData("its lossless JPEG has components of different sizes");
      }
    }
  }

  private void tables(int start, int end) throws DamagedData {
    int at = start;
    while (at + 17 <= end) {
      int slot = data[at] & 0xff;
      int values = 0;
      for (int i = 1; i <= 16; i++) {
        values += data[at + i] & 0xff;
      }
      if (slot > 3 || at + 17 + values > end) {
        throw new DamagedData("a Huffman table of its lossless JPEG makes no sense");
      }
      defined[slot] = new HuffmanTable(data, at + 1, at + 17, values);
      at += 17 + values;
    }
  }

  private void scan(int at, int size) throws DamagedData {
    if (width == 0 || size < 1 || data[at] != components || size < 4 + 2 * components) {
      throw new DamagedData("its lossless JPEG is not in one scan");
    }
    used = new HuffmanTable[components];
    for (int c = 0; c < components; c++) {
      int slot = (data[at + 2 + 2 * c] & 0xff) >> 4;
      if ((data[at + 1 + 2 * c] & 0xff) != names[c] || slot > 3 || defined[slot] == null) {
        throw new DamagedData("a Huffman table of its lossless JPEG is missing");
      }
      used[c] = defined[slot];
    }
    predictor = data[at + 1 + 2 * components] & 0xff;
    pointTransform = data[at + 3 + 2 * components] & 0x0f;
    if (!(predictor >= 1 && predictor <= 7 && pointTransform < precision)) {
      throw new DamagedData("its lossless JPEG has predictor " + predictor);
    }
    if (restartInterval % width != 0) {
      throw new DamagedData("its lossless JPEG restarts within a row");
    }
  }

  private int u16(int at) {
    return (data[at] & 0xff) << 8 | data[at + 1] & 0xff;
  }
}

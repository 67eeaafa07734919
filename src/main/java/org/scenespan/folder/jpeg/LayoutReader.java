package org.scenespan.folder.jpeg;

/** Reads a header, segment by segment, and refuses what the decoder does not know. */
final class LayoutReader {
  private static final int SOF0 = 0xc0;
  private static final int SOF1 = 0xc1;
  private static final int DHT = 0xc4;
  private static final int SOS = 0xda;
  private static final int DQT = 0xdb;
  private static final int DRI = 0xdd;
  private static final int APP0 = 0xe0;
  private static final int APP14 = 0xee;
  private static final int COM = 0xfe;

  /** libjpeg repeats the samples of a narrower chroma plane where it else weighs neighbours. */
  private static final int LEAST_CHROMA_WIDTH = 3;

  private final int[][] quantisation = new int[4][];
  private final HuffmanTable[] dc = new HuffmanTable[4];
  private final HuffmanTable[] ac = new HuffmanTable[4];
  private int restartInterval;
  private boolean jfif;

  /** Adobe's colour transform, −1 without its segment. */
  private int transform = -1;

  private int width;
  private int height;
  private int components;
  private final int[] ids = new int[3];
  private final int[] samplings = new int[3];
  private final int[] tables = new int[3];

  /**
   * @param header from the start of image to before the first scan
   * @param file from its start to behind the header of the scan at a position
   */
  Layout read(byte[] header, byte[] file, int scan) {
    int at = 2;
    while (at < header.length) {
      int marker = u8(header, at + 1);
      int length = u16(header, at + 2) + 2;
      take(marker, header, at + 4, at + length);
      at += length;
    }
    if (width == 0) {
      throw new Doubt("no frame header of a kind that is known");
    }
    return layout(file, scan);
  }

  private void take(int marker, byte[] bytes, int start, int end) {
    switch (marker) {
      case DQT -> takeQuantisation(bytes, start, end);
      case DHT -> takeCodes(bytes, start, end);
      case DRI -> restartInterval = u16(bytes, start);
      case SOF0, SOF1 -> takeFrame(bytes, start, end);
      case APP0 -> jfif = true;
      case APP14 -> transform = end - start >= 12 ? u8(bytes, start + 11) : -2;
      case COM -> {}
      default -> throw new Doubt("a segment of kind " + marker);
    }
  }

  private void takeQuantisation(byte[] bytes, int start, int end) {
    int at = start;
    while (at < end) {
      int table = u8(bytes, at++);
      if (table > 3 || at + 64 > end) {
        throw new Doubt("a quantisation table of 16 bits, or a cut one");
      }
      quantisation[table] = new int[64];
      for (int i = 0; i < 64; i++) {
        quantisation[table][i] = u8(bytes, at++);
      }
    }
  }

  private void takeCodes(byte[] bytes, int start, int end) {
    int at = start;
    while (at < end) {
      int table = u8(bytes, at++);
      if ((table & 0xef) > 3 || at + 16 > end) {
        throw new Doubt("a Huffman table of a number that there is not");
      }
      int[] counts = new int[17];
      int sum = 0;
      for (int length = 1; length <= 16; length++) {
        counts[length] = u8(bytes, at++);
        sum += counts[length];
      }
      if (sum > 256 || at + sum > end) {
        throw new Doubt("a cut Huffman table");
      }
      int[] symbols = new int[sum];
      for (int i = 0; i < sum; i++) {
        symbols[i] = u8(bytes, at++);
      }
      boolean isDc = table < 16;
      (isDc ? dc : ac)[table & 15] = new HuffmanTable(isDc, counts, symbols);
    }
  }

  private void takeFrame(byte[] bytes, int start, int end) {
    components = u8(bytes, start + 5);
    if (u8(bytes, start) != 8
        || components != 1 && components != 3
        || end - start != 6 + 3 * components) {
      throw new Doubt("a picture of other than 8 bits in 1 or 3 components");
    }
    height = u16(bytes, start + 1);
    width = u16(bytes, start + 3);
    for (int i = 0; i < components; i++) {
      ids[i] = u8(bytes, start + 6 + 3 * i);
      samplings[i] = u8(bytes, start + 7 + 3 * i);
      tables[i] = u8(bytes, start + 8 + 3 * i);
    }
  }

  private Layout.Sampling sampling() {
    if (components == 1) {
      return Layout.Sampling.GREY;
    }
    // Adobe's 1 and JFIF both say Y, Cb and Cr; anything else is a guess.
    if (!(transform == 1 || transform == -1 && jfif)) {
      throw new Doubt("colours that may not be Y, Cb and Cr");
    }
    if (samplings[1] != 0x11 || samplings[2] != 0x11) {
      throw new Doubt("an unusual sampling of chroma");
    }
    Layout.Sampling sampling =
        switch (samplings[0]) {
          case 0x11 -> Layout.Sampling.FULL;
          case 0x21 -> Layout.Sampling.HALF_WIDTH;
          case 0x22 -> Layout.Sampling.QUARTER;
          default -> throw new Doubt("an unusual sampling of chroma");
        };
    if (sampling.across == 2 && (width + 1) / 2 < LEAST_CHROMA_WIDTH) {
      throw new Doubt("a plane of chroma too narrow for neighbours");
    }
    return sampling;
  }

  private Layout layout(byte[] file, int scan) {
    Layout.Sampling sampling = sampling();
    int at = scan + 4;
    if (u8(file, scan + 1) != SOS
        || u16(file, scan + 2) != 6 + 2 * components
        || u8(file, at++) != components) {
      throw new Doubt("a scan of a part of the components");
    }
    int blocks = sampling.blocksBefore(components - 1) + 1;
    if (components == 1) {
      blocks = 1;
    }
    int[] componentOf = new int[blocks];
    HuffmanTable[] dcOf = new HuffmanTable[blocks];
    HuffmanTable[] acOf = new HuffmanTable[blocks];
    int[][] quantisationOf = new int[components][];
    for (int component = 0, block = 0; component < components; component++) {
      int id = u8(file, at++);
      int codes = u8(file, at++);
      quantisationOf[component] = tables[component] > 3 ? null : quantisation[tables[component]];
      HuffmanTable dcTable = codes >> 4 > 3 ? null : dc[codes >> 4];
      HuffmanTable acTable = (codes & 15) > 3 ? null : ac[codes & 15];
      if (id != ids[component]
          || quantisationOf[component] == null
          || dcTable == null
          || acTable == null) {
        throw new Doubt("a component without its tables");
      }
      int each = sampling.across(component) * sampling.down(component);
      for (int i = 0; i < each; i++, block++) {
        componentOf[block] = component;
        dcOf[block] = dcTable;
        acOf[block] = acTable;
      }
    }
    if (u8(file, at) != 0 || u8(file, at + 1) != 63 || u8(file, at + 2) != 0) {
      throw new Doubt("a scan of a part of the coefficients");
    }
    int mcuWidth = 8 * sampling.across;
    int mcuHeight = 8 * sampling.down;
    return new Layout(
        width,
        height,
        sampling,
        (width + mcuWidth - 1) / mcuWidth,
        (height + mcuHeight - 1) / mcuHeight,
        restartInterval,
        componentOf,
        dcOf,
        acOf,
        quantisationOf,
        at + 3);
  }

  private static int u8(byte[] bytes, int at) {
    if (at >= bytes.length) {
      throw new Doubt("a cut header");
    }
    return bytes[at] & 0xff;
  }

  private static int u16(byte[] bytes, int at) {
    return u8(bytes, at) << 8 | u8(bytes, at + 1);
  }
}

package org.scenespan.folder.codec;

import java.lang.invoke.MethodHandles;
import java.lang.invoke.VarHandle;
import java.nio.ByteOrder;
import java.util.Arrays;

/**
 * Decodes lossless Huffman-coded JPEG (ITU-T T.81, annex H: process 14), the form in which DNG
 * packs sensor codes: 1 to 4 components side by side, all seven predictors, 2 to 16 bits.
 */
public final class LosslessJpeg {
  /** Bits that one look into a table takes: a code and, where they fit, its difference's bits. */
  private static final int LOOK_BITS = 13;

  /** Zeros behind the last byte, so that eight bytes can be read at once wherever a code begins. */
  private static final int PADDING = 16;

  private static final VarHandle LONGS =
      MethodHandles.byteArrayViewVarHandle(long[].class, ByteOrder.BIG_ENDIAN);

  private final int width;
  private final int height;
  private final int components;
  private final int precision;
  private final int predictor;
  private final int pointTransform;
  private final int restartInterval;
  private final Table[] tables;
  private final byte[] codes;
  private final int codeBytes;
  private final int[] restarts;

  private LosslessJpeg(Header header, byte[] codes, int codeBytes, int[] restarts) {
    this.width = header.width;
    this.height = header.height;
    this.components = header.components;
    this.precision = header.precision;
    this.predictor = header.predictor;
    this.pointTransform = header.pointTransform;
    this.restartInterval = header.restartInterval;
    this.tables = header.used;
    this.codes = codes;
    this.codeBytes = codeBytes;
    this.restarts = restarts;
  }

  /**
   * Reads the header and sets the scan's codes ready.
   *
   * @param data begins with the start mark
   */
  public static LosslessJpeg of(byte[] data, int length) throws DamagedData {
    Header header = new Header(data, length);
    int scan = header.read();
    byte[] codes = new byte[length - scan + PADDING];
    int[] restarts = new int[16];
    int count = 0;
    int to = 0;
    int from = scan;
    while (from < length) {
      int end = from;
      while (end < length && data[end] != (byte) 0xff) {
        end++;
      }
      System.arraycopy(data, from, codes, to, end - from);
      to += end - from;
      if (end + 1 >= length) {
        break;
      }
      int marker = data[end + 1] & 0xff;
      if (marker == 0) {
        codes[to++] = (byte) 0xff;
        from = end + 2;
      } else if (marker >= 0xd0 && marker <= 0xd7) {
        if (count == restarts.length) {
          restarts = Arrays.copyOf(restarts, count * 2);
        }
        restarts[count++] = to;
        from = end + 2;
      } else if (marker == 0xff) {
        from = end + 1;
      } else {
        break;
      }
    }
    return new LosslessJpeg(header, codes, to, Arrays.copyOf(restarts, count));
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
        if (restart >= restarts.length) {
          throw new DamagedData("a restart mark of its lossless JPEG is missing");
        }
        bit = (long) restarts[restart++] * 8;
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
      if (bit > (long) codeBytes * 8) {
        throw new DamagedData("its lossless JPEG ends too early");
      }
      first = false;
    }
    if (pointTransform > 0) {
      for (int i = 0; i < samples * height; i++) {
        into[i] <<= pointTransform;
      }
    }
  }

  /** Whether {@link #decodePairs} takes it: two components, each sample from its left neighbour. */
  public boolean isPaired() {
    return components == 2 && predictor == 1 && pointTransform == 0 && restartInterval == 0;
  }

  /**
   * Decodes the picture into pairs of samples, the first component's in the low 16 bits.
   *
   * @param into takes rows of {@link #width} pairs
   * @param to where the first row begins
   * @param stride pairs from the start of a row to that of the next
   */
  public void decodePairs(int[] into, int to, int stride) throws DamagedData {
    int[] first = tables[0].look;
    int[] second = tables[1].look;
    long position = 0;
    int one = 1 << precision - 1;
    int other = one;
    for (int y = 0; y < height; y++) {
      int at = to + y * stride;
      if (y > 0) {
        one = into[at - stride];
        other = into[at - stride] >>> 16;
      }
      for (int i = at; i < at + width; i++) {
        long window = window(position);
        int entry = first[(int) (window >>> 64 - LOOK_BITS)];
        if (entry == 0) {
          entry = tables[0].slow(window);
        }
        int used = entry & 0x3f;
        one += entry >> 6;
        // A sample takes 32 bits at most, so that one has 57 − 32 left: enough for the table.
        window <<= used;
        entry = second[(int) (window >>> 64 - LOOK_BITS)];
        if (entry == 0) {
          window = window(position + used);
          entry = tables[1].slow(window);
        }
        position += used + (entry & 0x3f);
        other += entry >> 6;
        into[i] = one & 0xffff | other << 16;
      }
      if (position > (long) codeBytes * 8) {
        throw new DamagedData("its lossless JPEG ends too early");
      }
    }
  }

  /** Rows between two restart marks; −1 where there are none. */
  private int restartRows() {
    return restartInterval == 0 ? -1 : restartInterval / width;
  }

  /** Each sample from its left neighbour; the first of a row from what stands in its place. */
  private long rowFromLeft(short[] into, int at, long bit) throws DamagedData {
    if (components == 2) {
      return twoFromLeft(into, at, bit);
    }
    long position = bit;
    int[] last = new int[components];
    for (int c = 0; c < components; c++) {
      last[c] = into[at + c];
    }
    int end = at + width * components;
    for (int i = at; i < end; ) {
      for (int c = 0; c < components; c++, i++) {
        long window = window(position);
        int entry = tables[c].look[(int) (window >>> 64 - LOOK_BITS)];
        if (entry == 0) {
          entry = tables[c].slow(window);
        }
        position += entry & 0x3f;
        last[c] += entry >> 6;
        into[i] = (short) last[c];
      }
    }
    return position;
  }

  /** The usual case, two components, with both samples of a pixel from one look where they fit. */
  private long twoFromLeft(short[] into, int at, long bit) throws DamagedData {
    int[] first = tables[0].look;
    int[] second = tables[1].look;
    long position = bit;
    int one = into[at];
    int other = into[at + 1];
    int end = at + 2 * width;
    for (int i = at; i < end; i += 2) {
      long window = window(position);
      int entry = first[(int) (window >>> 64 - LOOK_BITS)];
      if (entry == 0) {
        entry = tables[0].slow(window);
      }
      int used = entry & 0x3f;
      one += entry >> 6;
      // A sample takes 32 bits at most, so that one has 57 − 32 left: enough for the table.
      window <<= used;
      entry = second[(int) (window >>> 64 - LOOK_BITS)];
      if (entry == 0) {
        window = window(position + used);
        entry = tables[1].slow(window);
      }
      position += used + (entry & 0x3f);
      other += entry >> 6;
      into[i] = (short) one;
      into[i + 1] = (short) other;
    }
    return position;
  }

  private long rowFromAbove(short[] into, int at, int above, int kind, long bit)
      throws DamagedData {
    long position = bit;
    for (int x = 0, i = at; x < width; x++) {
      for (int c = 0; c < components; c++, i++) {
        long window = window(position);
        int entry = tables[c].look[(int) (window >>> 64 - LOOK_BITS)];
        if (entry == 0) {
          entry = tables[c].slow(window);
        }
        position += entry & 0x3f;
        int predicted = x == 0 ? into[i] : predicted(into, i, i - at + above, kind);
        into[i] = (short) (predicted + (entry >> 6));
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

  /** At least 57 bits of the codes, the next one at the top. */
  private long window(long position) throws DamagedData {
    int index = (int) (position >> 3);
    if (index > codeBytes + PADDING - 8) {
      throw new DamagedData("its lossless JPEG ends too early");
    }
    return (long) LONGS.get(codes, index) << (position & 7);
  }

  /** A Huffman table (T.81, annex C) of differences' categories. */
  private static final class Table {
    /** Difference in the high 26 bits, number of bits in the low 6; 0 where the look is short. */
    private final int[] look = new int[1 << LOOK_BITS];

    /**
     * Of each code of 16 bits its category and, from bit 8 on, its length; 0 where there is none.
     */
    private final short[] category = new short[1 << 16];

    Table(byte[] data, int counts, int values) throws DamagedData {
      int code = 0;
      int value = values;
      for (int length = 1; length <= 16; length++) {
        for (int i = data[counts + length - 1] & 0xff; i > 0; i--) {
          int kind = data[value++] & 0xff;
          int step = 1 << 16 - length;
          if (kind > 16 || code + step > 1 << 16) {
            throw new DamagedData("a Huffman table of its lossless JPEG makes no sense");
          }
          Arrays.fill(category, code, code + step, (short) (length << 8 | kind));
          code += step;
        }
      }
      for (int i = 0; i < look.length; i++) {
        int entry = category[i << 16 - LOOK_BITS];
        int length = entry >> 8;
        int kind = entry & 0xff;
        int total = length + (kind == 16 ? 0 : kind);
        if (length > 0 && total <= LOOK_BITS) {
          look[i] = difference((long) i << 64 - LOOK_BITS, length, kind) << 6 | total;
        }
      }
    }

    /** The same for a code that the look does not hold. */
    int slow(long window) throws DamagedData {
      int entry = category[(int) (window >>> 48)];
      if (entry == 0) {
        throw new DamagedData("its lossless JPEG has a code that is in no table");
      }
      int length = entry >> 8;
      int kind = entry & 0xff;
      return difference(window, length, kind) << 6 | length + (kind == 16 ? 0 : kind);
    }

    /** T.81, H.1.2.2 and table H.2: category 16 has no further bits. */
    private static int difference(long window, int length, int kind) {
      if (kind == 0) {
        return 0;
      }
      if (kind == 16) {
        return -32768;
      }
      int bits = (int) (window << length >>> 64 - kind);
      return bits < 1 << kind - 1 ? bits - (1 << kind) + 1 : bits;
    }
  }

  /** The markers before the scan. */
  private static final class Header {
    private final byte[] data;
    private final int length;
    private final Table[] defined = new Table[4];
    private int width;
    private int height;
    private int components;
    private int precision;
    private int predictor;
    private int pointTransform;
    private int restartInterval;
    private final int[] names = new int[4];
    private Table[] used;

    Header(byte[] data, int length) {
      this.data = data;
      this.length = length;
    }

    /** Answers where the scan's codes begin. */
    int read() throws DamagedData {
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
            return end;
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
        defined[slot] = new Table(data, at + 1, at + 17);
        at += 17 + values;
      }
    }

    private void scan(int at, int size) throws DamagedData {
      if (width == 0 || size < 1 || data[at] != components || size < 4 + 2 * components) {
        throw new DamagedData("its lossless JPEG is not in one scan");
      }
      used = new Table[components];
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
}

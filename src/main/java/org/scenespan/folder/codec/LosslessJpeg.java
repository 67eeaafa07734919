package org.scenespan.folder.codec;

import java.lang.invoke.MethodHandles;
import java.lang.invoke.VarHandle;
import java.nio.ByteOrder;
import java.util.Arrays;
import java.util.function.IntConsumer;

/**
 * Decodes lossless Huffman-coded JPEG (ITU-T T.81, annex H: process 14), the form in which DNG
 * packs sensor codes: 1 to 4 components side by side, all seven predictors, 2 to 16 bits.
 */
public final class LosslessJpeg {
  /** Zeros behind the last byte, so that eight bytes can be read at once wherever a code begins. */
  public static final int PADDING = 24;

  private static final VarHandle LONGS =
      MethodHandles.byteArrayViewVarHandle(long[].class, ByteOrder.BIG_ENDIAN);

  private final int width;
  private final int height;
  private final int components;
  private final int precision;
  private final int predictor;
  private final int pointTransform;
  private final int restartInterval;
  private final HuffmanTable[] tables;
  private final byte[] codes;
  private final int codeBytes;
  private final int[] restarts;

  private LosslessJpeg(LosslessHeader header, byte[] codes, int codeBytes, int[] restarts) {
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
    return of(data, length, new byte[length + PADDING]);
  }

  /**
   * As {@link #of(byte[], int)}, with room to work in.
   *
   * @param codes at least {@link #PADDING} bytes longer than the data; not to be changed until the
   *     picture is decoded
   */
  public static LosslessJpeg of(byte[] data, int length, byte[] codes) throws DamagedData {
    LosslessHeader header = new LosslessHeader(data, length);
    int scan = header.read();
    int[] restarts = new int[16];
    int count = 0;
    int to = 0;
    int from = scan;
    while (from < length) {
      int end = copied(data, from, length, codes, to);
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
    Arrays.fill(codes, to, to + PADDING, (byte) 0);
    return new LosslessJpeg(header, codes, to, Arrays.copyOf(restarts, count));
  }

  /** Copies bytes up to the next one that is 0xff and answers its place, or the end. */
  private static int copied(byte[] data, int from, int length, byte[] codes, int to) {
    int at = from;
    int shift = to - from;
    while (at + Long.BYTES <= length) {
      long eight = (long) LONGS.get(data, at);
      // A byte of all ones is 0 in the complement: the usual test for a byte of 0 in a number.
      if (((~eight - 0x0101010101010101L) & eight & 0x8080808080808080L) != 0) {
        break;
      }
      LONGS.set(codes, at + shift, eight);
      at += Long.BYTES;
    }
    while (at < length && data[at] != (byte) 0xff) {
      codes[at + shift] = data[at];
      at++;
    }
    return at;
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
      check(bit);
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
    decodePairs(into, to, stride, rows -> {});
  }

  /**
   * As {@link #decodePairs(int[], int, int)}, and tells how far it is.
   *
   * @param reached is told after each row how many there are
   */
  public void decodePairs(int[] into, int to, int stride, IntConsumer reached) throws DamagedData {
    int[] looks = tables[0].look;
    int[] otherLooks = tables[1].look;
    int limit = lastWindow();
    int[] careful = new int[2];
    int one = 1 << precision - 1;
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
        window |= (long) LONGS.get(codes, next) >>> held;
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
          long position = entries(8L * next - held, careful);
          one += careful[0] >> HuffmanTable.DIFFERENCE_SHIFT;
          other += careful[1] >> HuffmanTable.DIFFERENCE_SHIFT;
          into[i++] = one & 0xffff | other << 16;
          next = (int) Math.min(position >> 3, limit);
          int passed = (int) (position & 7);
          window = (long) LONGS.get(codes, next) << passed;
          next = Math.min(next + 7, limit);
          held = 56 - passed;
        }
      }
      check(8L * next - held);
      reached.accept(y + 1);
    }
  }

  /**
   * Entries of the next codes, long ones among them, of the components in turn.
   *
   * @param start bits of the codes that were taken before
   * @return bits that are then taken
   */
  long entries(long start, int[] into) throws DamagedData {
    long position = start;
    for (int i = 0; i < into.length; i++) {
      into[i] = tables[i & 1].entry(window(position));
      position += into[i] & HuffmanTable.USED;
    }
    return position;
  }

  /** Whether another picture has the same shape, so that both can be decoded at a time. */
  public boolean isTwin(LosslessJpeg other) {
    return isPaired()
        && other.isPaired()
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

  byte[] codes() {
    return codes;
  }

  HuffmanTable table(int component) {
    return tables[component];
  }

  /**
   * The last place in the codes where a window may begin: zeros come where they end, and a row's
   * end shows that they were too few.
   */
  int lastWindow() {
    return codeBytes + PADDING - Long.BYTES;
  }

  /**
   * @param position bits of the codes that were taken
   */
  void check(long position) throws DamagedData {
    if (position > 8L * codeBytes) {
      throw new DamagedData("its lossless JPEG ends too early");
    }
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
        long window = window(position);
        int entry = tables[c].entry(window);
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
        long window = window(position);
        int entry = tables[c].entry(window);
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

  /** At least 57 bits of the codes, the next one at the top. */
  long window(long position) throws DamagedData {
    int index = (int) (position >> 3);
    if (index > codeBytes + PADDING - 8) {
      throw new DamagedData("its lossless JPEG ends too early");
    }
    return (long) LONGS.get(codes, index) << (position & 7);
  }
}

package org.scenespan.folder.codec;

import java.util.zip.DataFormatException;
import java.util.zip.Inflater;

/** Expands strips and tiles of a TIFF (TIFF 6.0, sections 9 and 13; Technical Note 2 of 2002). */
public final class Expansion {
  private static final int CLEAR = 256;
  private static final int END = 257;
  private static final int MOST_CODES = 4096;

  private Expansion() {}

  /**
   * PackBits: a byte n from 0 to 127 is followed by n + 1 bytes as they are, one from −127 to −1 by
   * one byte to be repeated 1 − n times.
   *
   * @param out filled to its length from the start
   */
  public static void packBits(byte[] in, int length, byte[] out, int wanted) throws DamagedData {
    int from = 0;
    int to = 0;
    while (to < wanted) {
      if (from >= length) {
        throw tooShort();
      }
      int code = in[from++];
      if (code == -128) {
        continue;
      }
      int count = code >= 0 ? code + 1 : 1 - code;
      int taken = Math.min(count, wanted - to);
      if (from + (code >= 0 ? count : 1) > length && from + (code >= 0 ? taken : 1) > length) {
        throw tooShort();
      }
      if (code >= 0) {
        System.arraycopy(in, from, out, to, taken);
        from += count;
      } else {
        java.util.Arrays.fill(out, to, to + taken, in[from++]);
      }
      to += taken;
    }
  }

  /** Deflate with the frame of zlib (RFC 1950). */
  public static void deflate(byte[] in, int length, byte[] out, int wanted) throws DamagedData {
    Inflater inflater = new Inflater();
    try {
      inflater.setInput(in, 0, length);
      int to = 0;
      while (to < wanted) {
        int count = inflater.inflate(out, to, wanted - to);
        if (count == 0) {
          throw tooShort();
        }
        to += count;
      }
    } catch (DataFormatException e) {
      throw new DamagedData("its deflated data is damaged: " + e.getMessage());
    } finally {
      inflater.end();
    }
  }

  /** LZW with codes of 9 to 12 bits, the highest bit first, one code earlier than need be. */
  public static void lzw(byte[] in, int length, byte[] out, int wanted) throws DamagedData {
    if (length >= 2 && in[0] == 0 && (in[1] & 1) == 1) {
      throw new DamagedData("its LZW data is of the kind from before TIFF 6.0");
    }
    new Lzw(in, length, out, wanted).run();
  }

  private static DamagedData tooShort() {
    return new DamagedData("its packed data ends too early");
  }

  /** One strip or tile. A string of the table is a place in what has been written already. */
  private static final class Lzw {
    private final byte[] in;
    private final int length;
    private final byte[] out;
    private final int wanted;
    private final int[] start = new int[MOST_CODES + 1];
    private final int[] size = new int[MOST_CODES + 1];
    private int next;
    private int bits;
    private int buffer;
    private int buffered;
    private int from;

    Lzw(byte[] in, int length, byte[] out, int wanted) {
      this.in = in;
      this.length = length;
      this.out = out;
      this.wanted = wanted;
    }

    void run() throws DamagedData {
      clear();
      int to = 0;
      int last = 0;
      boolean fresh = true;
      while (to < wanted) {
        int code = code();
        if (code == CLEAR) {
          clear();
          fresh = true;
          continue;
        }
        if (code == END) {
          throw tooShort();
        }
        int begin = to;
        if (code < CLEAR) {
          out[to++] = (byte) code;
        } else {
          if (fresh || code > next || next > MOST_CODES) {
            throw new DamagedData("its LZW data has a code that was not yet made");
          }
          // A code that is just being made is the last string and its own first byte.
          boolean making = code == next;
          int source = making ? last : start[code];
          int count = making ? begin - last + 1 : size[code];
          count = Math.min(count, wanted - to);
          for (int i = 0; i < count; i++) {
            out[to++] = out[source + i];
          }
        }
        if (!fresh && next < MOST_CODES) {
          start[next] = last;
          size[next] = begin - last + 1;
          next++;
          if (next + 1 >= 1 << bits && bits < 12) {
            bits++;
          }
        }
        fresh = false;
        last = begin;
      }
    }

    private void clear() {
      next = END + 1;
      bits = 9;
    }

    private int code() throws DamagedData {
      while (buffered < bits) {
        if (from >= length) {
          throw tooShort();
        }
        buffer = buffer << 8 | in[from++] & 0xff;
        buffered += 8;
      }
      buffered -= bits;
      return buffer >> buffered & (1 << bits) - 1;
    }
  }
}

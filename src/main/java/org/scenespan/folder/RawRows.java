package org.scenespan.folder;

import java.io.IOException;

/** Reads a raw picture's rows from its file, one at a time, with the codes unpacked. */
final class RawRows {
  private final Bytes bytes;
  private final RawPicture picture;
  private final boolean bigEndian;
  private final byte[] packed;

  RawRows(Bytes bytes, RawPicture picture, boolean bigEndian) {
    this.bytes = bytes;
    this.picture = picture;
    this.bigEndian = bigEndian;
    this.packed = new byte[picture.strips().bytesPerRow()];
  }

  /**
   * @param row of the active area, 0 at its top
   * @param codes takes the codes of the active area's row
   */
  void read(int row, short[] codes) throws IOException {
    RawPicture.Strips strips = picture.strips();
    int stored = row + picture.active().top();
    bytes.read(strips.offsetOfRow(stored), packed, 0, packed.length);
    int left = picture.active().left();
    int count = picture.active().width();
    switch (strips.bits()) {
      case 16 -> unpack16(left, count, codes);
      case 8 -> {
        for (int i = 0; i < count; i++) {
          codes[i] = (short) (packed[left + i] & 0xff);
        }
      }
      default -> unpackBits(strips.bits(), left, count, codes);
    }
  }

  private void unpack16(int left, int count, short[] codes) {
    int high = bigEndian ? 0 : 1;
    for (int i = 0, at = left * 2; i < count; i++, at += 2) {
      codes[i] = (short) ((packed[at + high] & 0xff) << 8 | packed[at + 1 - high] & 0xff);
    }
  }

  /** Codes one after the other, the highest bit first whatever the file's byte order. */
  private void unpackBits(int bits, int left, int count, short[] codes) {
    long bit = (long) left * bits;
    int mask = (1 << bits) - 1;
    for (int i = 0; i < count; i++, bit += bits) {
      int at = (int) (bit >> 3);
      int window = (packed[at] & 0xff) << 16 | byteAt(at + 1) << 8 | byteAt(at + 2);
      codes[i] = (short) (window >> 24 - (int) (bit & 7) - bits & mask);
    }
  }

  private int byteAt(int at) {
    return at < packed.length ? packed[at] & 0xff : 0;
  }
}

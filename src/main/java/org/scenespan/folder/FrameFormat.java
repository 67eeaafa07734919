package org.scenespan.folder;

import java.io.IOException;

/** What a file's first bytes say that it is. */
enum FrameFormat {
  JPEG,
  TIFF,
  PNG,
  RADIANCE,
  UNKNOWN;

  static FrameFormat of(Bytes bytes) throws IOException {
    if (bytes.size() < 8) {
      return UNKNOWN;
    }
    long head = (long) bytes.u16(0) << 16 | bytes.u16(2);
    if (head >>> 8 == 0xffd8ff) {
      return JPEG;
    }
    // TIFF 6.0, section 2: the byte order, then 42 in that order.
    if (head == 0x49492a00L || head == 0x4d4d002aL) {
      return TIFF;
    }
    if (head >>> 16 == 0x233f) { // "#?"
      return RADIANCE;
    }
    return head == 0x89504e47L && bytes.u16(4) == 0x0d0a && bytes.u16(6) == 0x1a0a ? PNG : UNKNOWN;
  }
}

package org.scenespan.folder;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.util.Optional;

/**
 * A whole JPEG file, checked against the limits before anything is decoded. Its picture stays on
 * disk until a decoder asks for it.
 *
 * @param start from the start of the file to behind the first scan's header
 * @param file open as long as it is decoded
 */
record JpegFile(
    byte[] start, Bytes file, JpegStructure structure, Optional<JpegStructure.Segment> exif) {
  /** The biggest JPEG that is read, bytes: a 200-megapixel one has some 100 MB. */
  static final long MAX_JPEG_BYTES = 256L << 20;

  private static final int APP0 = 0xe0;
  private static final int APP1 = 0xe1;
  private static final int APP14 = 0xee;
  private static final int APP15 = 0xef;
  private static final int COM = 0xfe;

  /** JFIF 1.02 without a density: says that the colours are Y, Cb and Cr. */
  private static final byte[] PLAIN_JFIF = {
    (byte) 0xff, (byte) APP0, 0, 16, 'J', 'F', 'I', 'F', 0, 1, 2, 0, 0, 1, 0, 1, 0, 0
  };

  static JpegFile read(Bytes file) throws IOException, UnreadableFrame {
    JpegStructure structure = JpegStructure.of(file);
    if (structure.width() == 0 && structure.firstScan() >= 0) {
      throw new UnreadableFrame("the JPEG states no size");
    }
    if (!structure.isWhole()) {
      throw new UnreadableFrame("the JPEG is cut off: its end mark is missing");
    }
    PixelLimit.check(structure.width(), structure.height());
    if (structure.precision() != 8) {
      throw new UnreadableFrame(
          "a JPEG of " + structure.precision() + " bits is not read, only of 8");
    }
    if (structure.components() != 1 && structure.components() != 3) {
      throw new UnreadableFrame(
          "a JPEG of " + structure.components() + " colours is not read, only of 1 or 3");
    }
    if (structure.end() > MAX_JPEG_BYTES) {
      throw new UnreadableFrame("the JPEG is bigger than " + (MAX_JPEG_BYTES >> 20) + " MiB");
    }
    // Every block of 8 x 8 takes a bit at least, so a few bytes cannot hold a huge picture; without
    // this a small file could make the decoder fill two hundred megapixels with grey.
    long blocks = (structure.width() + 7L) / 8 * ((structure.height() + 7L) / 8);
    if ((structure.end() - structure.firstScan()) * 8 < blocks) {
      throw new UnreadableFrame("the JPEG is cut off: too few bytes for its size");
    }
    int scan = (int) structure.firstScan();
    byte[] start = new byte[scan + 2 + file.u16(scan + 2)];
    file.read(0, start, 0, start.length);
    return new JpegFile(start, file, structure, exifIn(structure, file));
  }

  /** Reads a part of the file, all of it. Safe for several threads at a time. */
  void read(int position, byte[] into, int offset, int length) throws IOException {
    file.read(position, into, offset, length);
  }

  private static Optional<JpegStructure.Segment> exifIn(JpegStructure structure, Bytes file)
      throws IOException {
    for (JpegStructure.Segment segment : structure.header()) {
      if (segment.marker() == APP1 && segment.isNamed("Exif", file)) {
        return Optional.of(segment);
      }
    }
    return Optional.empty();
  }

  /** Bytes before the Exif's TIFF header in its segment: marker, length, name and two zeros. */
  static final int EXIF_OFFSET = 10;

  /**
   * What a decoder needs of the header, ending where the first scan begins: no colour profile, no
   * thumbnail, no metadata. Pixels then come in the file's own codes, so that 255 is clipping, and
   * broken metadata cannot keep the pixels from being read.
   */
  byte[] decoderHeader() {
    ByteArrayOutputStream header = new ByteArrayOutputStream();
    header.write(0xff);
    header.write(0xd8);
    boolean isYcc = exif.isPresent() || has("JFIF", APP0);
    boolean hasAdobe = has("Adobe", APP14);
    if (isYcc && !hasAdobe) {
      header.writeBytes(PLAIN_JFIF);
    }
    for (JpegStructure.Segment segment : structure.header()) {
      boolean application = segment.marker() >= APP0 && segment.marker() <= APP15;
      boolean adobe = isNamed(segment, "Adobe", APP14);
      if (adobe || !application && segment.marker() != COM) {
        header.write(start, (int) segment.position(), segment.length());
      }
    }
    return header.toByteArray();
  }

  private boolean has(String name, int marker) {
    return structure.header().stream().anyMatch(segment -> isNamed(segment, name, marker));
  }

  private boolean isNamed(JpegStructure.Segment segment, String name, int marker) {
    if (segment.marker() != marker || segment.length() < 4 + name.length()) {
      return false;
    }
    for (int i = 0; i < name.length(); i++) {
      if (start[(int) segment.position() + 4 + i] != name.charAt(i)) {
        return false;
      }
    }
    return true;
  }
}

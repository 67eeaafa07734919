package org.scenespan.proof;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;

/**
 * Writes three channels of 32-bit floats as a TIFF (TIFF 6.0, sections 2, 6 and 19: SampleFormat
 * 3), uncompressed, row by row from the top.
 */
final class FloatTiffWriter {
  private static final int HEADER_BYTES = 8;
  private static final int SHORT = 3;
  private static final int LONG = 4;
  private static final int ASCII = 2;

  /** A strip's size, about: big enough for few strips, small enough to read one at a time. */
  private static final int STRIP_BYTES = 1 << 18;

  private final OutputStream out;
  private final ByteBuffer row;
  private final int width;

  /**
   * @param description plain ASCII: what the numbers are
   */
  FloatTiffWriter(OutputStream out, int width, int height, String description) throws IOException {
    this.out = out;
    this.width = width;
    this.row = ByteBuffer.allocate(12 * width).order(ByteOrder.LITTLE_ENDIAN);
    out.write(head(width, height, description));
  }

  void row(float[] rgb, int at) throws IOException {
    row.clear();
    row.asFloatBuffer().put(rgb, at, 3 * width);
    out.write(row.array());
  }

  private static byte[] head(int width, int height, String description) {
    int rowsPerStrip = Math.max(1, Math.min(height, STRIP_BYTES / (12 * width)));
    int strips = (height + rowsPerStrip - 1) / rowsPerStrip;
    byte[] text = (description + "\0").getBytes(StandardCharsets.US_ASCII);
    int entries = 12;
    int directoryEnd = HEADER_BYTES + 2 + 12 * entries + 4;
    int bitsAt = directoryEnd;
    int formatAt = bitsAt + 6;
    int textAt = formatAt + 6;
    int offsetsAt = textAt + text.length + (text.length & 1);
    int lengthsAt = offsetsAt + 4 * strips;
    int dataAt = lengthsAt + 4 * strips;
    long end = dataAt + 12L * width * height;
    if (end > 0xffff_ffffL) {
      throw new IllegalArgumentException("the merged picture is too big for a TIFF");
    }
    ByteBuffer head = ByteBuffer.allocate(dataAt).order(ByteOrder.LITTLE_ENDIAN);
    head.put((byte) 'I').put((byte) 'I').putShort((short) 42).putInt(HEADER_BYTES);
    head.putShort((short) entries);
    entry(head, 256, LONG, 1, width); // ImageWidth
    entry(head, 257, LONG, 1, height); // ImageLength
    entry(head, 258, SHORT, 3, bitsAt); // BitsPerSample
    entry(head, 259, SHORT, 1, 1); // Compression: none
    entry(head, 262, SHORT, 1, 2); // PhotometricInterpretation: RGB
    entry(head, 270, ASCII, text.length, textAt); // ImageDescription
    entry(head, 273, LONG, strips, strips == 1 ? dataAt : offsetsAt); // StripOffsets
    entry(head, 277, SHORT, 1, 3); // SamplesPerPixel
    entry(head, 278, LONG, 1, rowsPerStrip); // RowsPerStrip
    int first = 12 * width * Math.min(rowsPerStrip, height);
    entry(head, 279, LONG, strips, strips == 1 ? first : lengthsAt); // StripByteCounts
    entry(head, 284, SHORT, 1, 1); // PlanarConfiguration: channels side by side
    entry(head, 339, SHORT, 3, formatAt); // SampleFormat
    head.putInt(0);
    for (int i = 0; i < 3; i++) {
      head.putShort((short) 32);
    }
    for (int i = 0; i < 3; i++) {
      head.putShort((short) 3);
    }
    head.put(text).position(offsetsAt);
    for (int i = 0; i < strips; i++) {
      head.putInt((int) (dataAt + 12L * width * rowsPerStrip * i));
    }
    for (int i = 0; i < strips; i++) {
      head.putInt(12 * width * Math.min(rowsPerStrip, height - i * rowsPerStrip));
    }
    return head.array();
  }

  private static void entry(ByteBuffer head, int tag, int type, int count, int value) {
    head.putShort((short) tag).putShort((short) type).putInt(count);
    // A short stands in the first two bytes of its field, which is the same in this byte order.
    head.putInt(value);
  }
}

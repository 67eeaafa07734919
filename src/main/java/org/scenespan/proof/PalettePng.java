package org.scenespan.proof;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.util.zip.CRC32;
import java.util.zip.Deflater;

/**
 * Writes a picture of at most 256 colours as a PNG (ISO/IEC 15948), row by row from the top, so
 * that a map of any size takes a row's memory.
 */
final class PalettePng {
  private static final byte[] SIGNATURE = {(byte) 0x89, 'P', 'N', 'G', 13, 10, 26, 10};
  private static final int CHUNK_BYTES = 1 << 16;

  private final OutputStream out;
  private final Deflater deflater = new Deflater(6);
  private final byte[] chunk = new byte[CHUNK_BYTES];
  private final byte[] line;
  private int filled;

  /**
   * @param palette colours as 0xRRGGBB
   * @param description plain Latin-1 text: what the colours mean
   */
  PalettePng(OutputStream out, int width, int height, int[] palette, String description)
      throws IOException {
    this.out = out;
    this.line = new byte[width + 1];
    out.write(SIGNATURE);
    // Eight bits, a palette, the only compression and filter method, no interlace.
    byte[] header =
        ByteBuffer.allocate(13)
            .putInt(width)
            .putInt(height)
            .put(new byte[] {8, 3, 0, 0, 0})
            .array();
    write("IHDR", header, header.length);
    byte[] colours = new byte[3 * palette.length];
    for (int i = 0; i < palette.length; i++) {
      colours[3 * i] = (byte) (palette[i] >> 16);
      colours[3 * i + 1] = (byte) (palette[i] >> 8);
      colours[3 * i + 2] = (byte) palette[i];
    }
    write("PLTE", colours, colours.length);
    byte[] text = ("Description\0" + description).getBytes(StandardCharsets.ISO_8859_1);
    write("tEXt", text, text.length);
  }

  /**
   * @param colours indices into the palette
   * @param at where the row begins
   */
  void row(byte[] colours, int at) throws IOException {
    // The row's first byte is its filter: none.
    System.arraycopy(colours, at, line, 1, line.length - 1);
    deflater.setInput(line);
    drain();
  }

  /** Ends the picture; the stream stays open. */
  void end() throws IOException {
    deflater.finish();
    drain();
    if (filled > 0) {
      write("IDAT", chunk, filled);
    }
    write("IEND", new byte[0], 0);
    deflater.end();
  }

  private void drain() throws IOException {
    while (true) {
      int count = deflater.deflate(chunk, filled, chunk.length - filled);
      filled += count;
      if (filled == chunk.length) {
        write("IDAT", chunk, filled);
        filled = 0;
      } else {
        return;
      }
    }
  }

  private void write(String type, byte[] data, int length) throws IOException {
    byte[] name = type.getBytes(StandardCharsets.US_ASCII);
    CRC32 crc = new CRC32();
    crc.update(name);
    crc.update(data, 0, length);
    out.write(ByteBuffer.allocate(4).putInt(length).array());
    out.write(name);
    out.write(data, 0, length);
    out.write(ByteBuffer.allocate(4).putInt((int) crc.getValue()).array());
  }
}

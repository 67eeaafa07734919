package org.scenespan.folder;

import java.io.IOException;
import org.scenespan.folder.codec.DamagedData;
import org.scenespan.folder.codec.Expansion;
import org.scenespan.folder.codec.LosslessJpeg;
import org.scenespan.folder.codec.Samples;

/**
 * Unpacks a TIFF picture of any depth, one row of strips or tiles at a time. Not for sharing
 * between threads.
 */
final class TiffPixels {
  private final Bytes bytes;
  private final TiffLayout layout;
  private final int[] band;
  private byte[] packed = new byte[0];
  private byte[] expanded = new byte[0];
  private final byte[] scratch;
  private final int[] row;
  private short[] codes = new short[0];
  private int held = -1;

  TiffPixels(Bytes bytes, TiffLayout layout) throws UnreadableFrame {
    this.bytes = bytes;
    this.layout = layout;
    TiffLayout.Pieces pieces = layout.pieces();
    long samples = (long) layout.width() * layout.samples() * pieces.height();
    if (samples * Integer.BYTES > Runtime.getRuntime().maxMemory() / 3) {
      throw new UnreadableFrame("its strips take " + (samples >> 18) + " MiB of memory");
    }
    this.band = new int[(int) samples];
    this.scratch = new byte[layout.bytesPerRow()];
    this.row = new int[pieces.width() * layout.step()];
  }

  /**
   * The samples of a row, those of a pixel side by side, as unsigned numbers or the bits of floats.
   * The array is used again.
   *
   * @param into takes width times samples
   */
  void row(int y, int[] into) throws IOException {
    int down = y / layout.pieces().height();
    if (down != held) {
      unpackBand(down);
      held = down;
    }
    int length = layout.width() * layout.samples();
    System.arraycopy(band, (y - down * layout.pieces().height()) * length, into, 0, length);
  }

  private void unpackBand(int down) throws IOException {
    TiffLayout.Pieces pieces = layout.pieces();
    int planes = layout.planar() ? layout.samples() : 1;
    for (int plane = 0; plane < planes; plane++) {
      for (int across = 0; across < pieces.across(); across++) {
        int piece = (plane * pieces.down() + down) * pieces.across() + across;
        unpackPiece(piece, plane, across * pieces.width(), layout.rowsIn(down));
      }
    }
  }

  private void unpackPiece(int piece, int plane, int left, int rows) throws IOException {
    TiffLayout.Pieces pieces = layout.pieces();
    int length = (int) Math.min(pieces.length(piece), Integer.MAX_VALUE - 64);
    int wanted = layout.bytesPerRow() * rows;
    if (layout.compression() == TiffLayout.UNCOMPRESSED) {
      length = Math.min(length, wanted);
    }
    if (packed.length < length) {
      packed = new byte[length];
    }
    bytes.read(pieces.offset(piece), packed, 0, length);
    if (layout.bitsReversed() && layout.compression() != TiffLayout.JPEG) {
      Samples.reverseBits(packed, length);
    }
    if (layout.compression() == TiffLayout.JPEG) {
      takeLossless(length, plane, left, rows);
      return;
    }
    byte[] data = expand(length, wanted);
    for (int y = 0; y < rows; y++) {
      unpackRow(data, y * layout.bytesPerRow());
      takeRow(y, plane, left);
    }
  }

  private byte[] expand(int length, int wanted) throws IOException {
    if (layout.compression() == TiffLayout.UNCOMPRESSED) {
      return packed;
    }
    if (expanded.length < wanted) {
      expanded = new byte[wanted];
    }
    switch (layout.compression()) {
      case TiffLayout.LZW -> Expansion.lzw(packed, length, expanded, wanted);
      case TiffLayout.PACK_BITS -> Expansion.packBits(packed, length, expanded, wanted);
      default -> Expansion.deflate(packed, length, expanded, wanted);
    }
    return expanded;
  }

  private void unpackRow(byte[] data, int at) {
    int count = row.length;
    boolean predicted = layout.hasPredictor();
    boolean bigEndian = layout.bigEndian();
    if (predicted && layout.predictor() == 3) {
      Samples.undoFloatDifferences(data, at, count, layout.bits() / 8, layout.step(), scratch);
      bigEndian = true;
    }
    Samples.unpack(data, at, layout.bits(), bigEndian, count, row, 0);
    if (predicted && layout.predictor() == 2) {
      Samples.undoDifferences(row, 0, count, layout.step(), layout.bits());
    }
  }

  /** Puts a piece's row to its place in the band. */
  private void takeRow(int y, int plane, int left) {
    int samples = layout.samples();
    int width = Math.min(layout.pieces().width(), layout.width() - left);
    int at = (y * layout.width() + left) * samples + plane;
    if (!layout.planar()) {
      System.arraycopy(row, 0, band, at, width * samples);
      return;
    }
    for (int x = 0; x < width; x++) {
      band[at + x * samples] = row[x];
    }
  }

  /** DNG: the samples of the JPEG in their order fill the rows of the strip or tile. */
  private void takeLossless(int length, int plane, int left, int rows) throws IOException {
    LosslessJpeg jpeg = LosslessJpeg.of(packed, length);
    long samples = (long) jpeg.rowSamples() * jpeg.height();
    if (samples < (long) row.length * rows || samples > 2L * row.length * rows) {
      throw new DamagedData("its lossless JPEG has another size than its strip or tile");
    }
    if (layout.bits() > 16) {
      throw new DamagedData("it has more than 16 bits in lossless JPEG");
    }
    if (codes.length < samples) {
      codes = new short[(int) samples];
    }
    jpeg.decode(codes);
    for (int y = 0; y < rows; y++) {
      for (int i = 0; i < row.length; i++) {
        row[i] = codes[y * row.length + i] & 0xffff;
        if (row[i] >>> layout.bits() != 0) {
          throw new DamagedData("its lossless JPEG has more bits than it states");
        }
      }
      takeRow(y, plane, left);
    }
  }
}

package org.scenespan.folder;

import java.io.IOException;
import org.scenespan.folder.codec.DamagedData;
import org.scenespan.folder.codec.LosslessJpeg;
import org.scenespan.folder.codec.Samples;

/**
 * Unpacks a mosaic's codes, a band of whole rows at a time. Not for sharing between threads; two of
 * them may read one file.
 */
final class RawBands {
  /** Bytes of a band of uncompressed rows: what a processor's own memory holds. */
  private static final int BAND_BYTES = 1 << 18;

  private final Bytes bytes;
  private final TiffLayout layout;
  private final RawLevels levels;
  private final int bandRows;
  private final int bandsInPiece;
  private byte[] packed = new byte[0];
  private short[] tile = new short[0];

  RawBands(Bytes bytes, RawPicture picture) {
    this.bytes = bytes;
    this.layout = picture.layout();
    this.levels = picture.levels();
    TiffLayout.Pieces pieces = layout.pieces();
    boolean whole = pieces.tiled() || isCompressed();
    this.bandRows =
        whole
            ? pieces.height()
            : Math.min(pieces.height(), Math.max(1, BAND_BYTES / layout.bytesPerRow()));
    this.bandsInPiece = (pieces.height() + bandRows - 1) / bandRows;
  }

  boolean isCompressed() {
    return layout.compression() == TiffLayout.JPEG;
  }

  int bands() {
    int last = layout.height() - 1;
    return bandOf(last) + 1;
  }

  int bandOf(int row) {
    int down = row / layout.pieces().height();
    return down * bandsInPiece + row % layout.pieces().height() / bandRows;
  }

  int firstRow(int band) {
    return band / bandsInPiece * layout.pieces().height() + band % bandsInPiece * bandRows;
  }

  /** Rows of the picture in a band. */
  int rows(int band) {
    int end = (band / bandsInPiece + 1) * layout.pieces().height();
    return Math.min(Math.min(bandRows, end - firstRow(band)), layout.height() - firstRow(band));
  }

  int mostRows() {
    return Math.min(bandRows, layout.height());
  }

  /**
   * @param into takes the band's rows, each as wide as the picture, from an index on
   */
  void unpack(int band, short[] into, int to) throws IOException {
    TiffLayout.Pieces pieces = layout.pieces();
    int rows = rows(band);
    if (!pieces.tiled() && !isCompressed()) {
      int length = rows * layout.bytesPerRow();
      long skipped = (long) (band % bandsInPiece) * bandRows * layout.bytesPerRow();
      read(pieces.offset(band / bandsInPiece) + skipped, length);
      unpackRows(rows, layout.width(), into, to);
    } else {
      int down = band / bandsInPiece;
      for (int across = 0; across < pieces.across(); across++) {
        int left = across * pieces.width();
        int piece = down * pieces.across() + across;
        int width = Math.min(pieces.width(), layout.width() - left);
        if (isCompressed()) {
          unpackLossless(piece, layout.rowsIn(down), rows, width, into, to + left);
        } else {
          read(pieces.offset(piece), layout.bytesPerRow() * rows);
          unpackRows(rows, width, into, to + left);
        }
      }
    }
    linearize(into, to, rows * layout.width());
  }

  private void read(long offset, int length) throws IOException {
    if (packed.length < length) {
      packed = new byte[length];
    }
    bytes.read(offset, packed, 0, length);
  }

  private void unpackRows(int rows, int width, short[] into, int to) {
    for (int y = 0; y < rows; y++) {
      int at = y * layout.bytesPerRow();
      int target = to + y * layout.width();
      Samples.unpack(packed, at, layout.bits(), layout.bigEndian(), 0, width, into, target);
    }
  }

  /** DNG: the samples of the JPEG in their order fill the rows of the strip or tile. */
  private void unpackLossless(int piece, int pieceRows, int rows, int width, short[] into, int to)
      throws IOException {
    TiffLayout.Pieces pieces = layout.pieces();
    int length = (int) Math.min(pieces.length(piece), Integer.MAX_VALUE - 64);
    read(pieces.offset(piece), length);
    LosslessJpeg jpeg = LosslessJpeg.of(packed, length);
    long samples = (long) jpeg.rowSamples() * jpeg.height();
    long wanted = (long) pieces.width() * pieceRows;
    if (samples < wanted || samples > 2 * wanted) {
      throw new DamagedData("its lossless JPEG has another size than its strip or tile");
    }
    boolean direct = to == 0 && width == layout.width() && into.length >= samples;
    if (direct && pieces.width() == layout.width()) {
      jpeg.decode(into);
      return;
    }
    if (tile.length < samples) {
      tile = new short[(int) samples];
    }
    jpeg.decode(tile);
    for (int y = 0; y < rows; y++) {
      System.arraycopy(tile, y * pieces.width(), into, to + y * layout.width(), width);
    }
  }

  private void linearize(short[] codes, int from, int count) {
    if (levels.linear().length == 0) {
      return;
    }
    for (int i = from; i < from + count; i++) {
      codes[i] = (short) levels.linearized(codes[i] & 0xffff);
    }
  }
}

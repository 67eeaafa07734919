package org.scenespan.folder;

import java.io.IOException;
import java.util.Optional;
import org.scenespan.folder.codec.DamagedData;
import org.scenespan.folder.codec.LosslessHeader;
import org.scenespan.folder.codec.LosslessJpeg;
import org.scenespan.folder.codec.SitePairs;

/**
 * Unpacks a mosaic's codes, a band of whole rows at a time, two neighbouring sites to a number: the
 * left one in the low 16 bits. Not for sharing between threads; two of them may read one file.
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

  /** The strip or tile of lossless JPEG whose bytes are all in {@link #packed}; −1 for none. */
  private int heldPiece = -1;

  private short[] codes = new short[0];

  /** Room for the bytes of two lossless JPEGs. */
  private final byte[][] rooms = new byte[2][0];

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

  /** Pairs of a row: tiles may reach over the right edge. */
  int stride() {
    TiffLayout.Pieces pieces = layout.pieces();
    return (int) (((long) pieces.width() * pieces.across() + 1) / 2);
  }

  /** Pairs that any band takes: tiles may reach over the lower edge. */
  int mostPairs() {
    return Math.multiplyExact(bandRows, stride());
  }

  /** Pairs of the whole picture, the last band's overhang included. */
  long allPairs() {
    return (long) (firstRow(bands() - 1) + bandRows) * stride();
  }

  /** The code of a site of a row that begins at an index. */
  static int site(int[] pairs, int at, int x) {
    return pairs[at + (x >> 1)] >>> 16 * (x & 1) & 0xffff;
  }

  /**
   * @param into takes the band's rows, each of {@link #stride} pairs, from an index on
   */
  void unpack(int band, int[] into, int to) throws IOException {
    TiffLayout.Pieces pieces = layout.pieces();
    int rows = rows(band);
    if (!pieces.tiled() && !isCompressed()) {
      long skipped = (long) (band % bandsInPiece) * bandRows * layout.bytesPerRow();
      read(pieces.offset(band / bandsInPiece) + skipped, rows * layout.bytesPerRow());
      unpackRows(rows, into, to, 0);
    } else if (isCompressed()) {
      unpackLossless(band / bandsInPiece, into, to);
    } else {
      for (int across = 0; across < pieces.across(); across++) {
        read(
            pieces.offset(band / bandsInPiece * pieces.across() + across),
            layout.bytesPerRow() * rows);
        unpackRows(rows, into, to, across * pieces.width());
      }
    }
    linearize(into, to, rows * stride());
  }

  private void read(long offset, int length) throws IOException {
    heldPiece = -1;
    if (packed.length < length + SitePairs.PADDING) {
      packed = new byte[length + Math.min(length / 8, 1 << 16) + SitePairs.PADDING];
    }
    bytes.read(offset, packed, 0, length);
  }

  private void unpackRows(int rows, int[] into, int to, int left) {
    int width = layout.pieces().width();
    if (codes.length < width) {
      codes = new short[width];
    }
    boolean paired = (left & 1) == 0;
    for (int y = 0; y < rows; y++) {
      int at = y * layout.bytesPerRow();
      int target = to + y * stride();
      if (paired) {
        SitePairs.unpack(
            packed, at, layout.bits(), layout.bigEndian(), width, into, target + left / 2);
      } else {
        SitePairs.unpack(packed, at, layout.bits(), layout.bigEndian(), width, codes);
        SitePairs.put(codes, 0, width, into, target, left);
      }
    }
  }

  /** DNG: the samples of the JPEG in their order fill the rows of the strip or tile. */
  private void unpackLossless(int down, int[] into, int to) throws IOException {
    TiffLayout.Pieces pieces = layout.pieces();
    int rows = layout.rowsIn(down);
    for (int across = 0; across < pieces.across(); across++) {
      int left = across * pieces.width();
      LosslessHeader header = header(down, across);
      LosslessJpeg jpeg = jpeg(header, 0);
      if (!isDirect(header, rows)) {
        scatter(jpeg, rows, into, to, left);
        continue;
      }
      Optional<LosslessJpeg> twin = twin(jpeg, down, across + 1, rows);
      if (twin.isEmpty()) {
        jpeg.decodePairs(into, to + left / 2, stride());
      } else {
        int twinTo = to + (left + pieces.width()) / 2;
        jpeg.decodePairs(twin.get(), into, to + left / 2, twinTo, stride());
        across++;
      }
    }
  }

  /** The next tile of a row of tiles, if both can be decoded at a time. */
  private Optional<LosslessJpeg> twin(LosslessJpeg jpeg, int down, int across, int rows)
      throws IOException {
    if (across == layout.pieces().across()) {
      return Optional.empty();
    }
    LosslessHeader header = header(down, across);
    if (!isDirect(header, rows)) {
      return Optional.empty();
    }
    return Optional.of(jpeg(header, 1)).filter(jpeg::isTwin);
  }

  /**
   * The lossless JPEG that the whole picture is in, if one is, and if its pairs are those of the
   * rows as they come out of it. Its header tells that, before its codes are set ready.
   */
  Optional<LosslessJpeg> wholePicture() throws IOException {
    boolean alone = isCompressed() && !layout.pieces().tiled() && bands() == 1;
    if (!alone || levels.linear().length > 0) {
      return Optional.empty();
    }
    LosslessHeader header = header(0, 0);
    return isDirect(header, layout.rowsIn(0)) ? Optional.of(jpeg(header, 0)) : Optional.empty();
  }

  /** Reads a strip or tile, unless it was the last one read, and what its JPEG is. */
  private LosslessHeader header(int down, int across) throws IOException {
    TiffLayout.Pieces pieces = layout.pieces();
    int piece = down * pieces.across() + across;
    int length = (int) Math.min(pieces.length(piece), Integer.MAX_VALUE - 64);
    if (piece != heldPiece) {
      read(pieces.offset(piece), length);
      heldPiece = piece;
    }
    LosslessHeader header = LosslessHeader.of(packed, length);
    long samples = (long) header.rowSamples() * header.height();
    long wanted = (long) pieces.width() * layout.rowsIn(down);
    if (samples < wanted || samples > 2 * wanted) {
      throw new DamagedData("its lossless JPEG has another size than its strip or tile");
    }
    return header;
  }

  private LosslessJpeg jpeg(LosslessHeader header, int room) {
    int wanted = header.roomBytes();
    if (rooms[room].length < wanted) {
      rooms[room] = new byte[wanted + Math.min(wanted / 8, 1 << 16)];
    }
    return LosslessJpeg.of(header, rooms[room]);
  }

  /** Whether the pairs of a JPEG are those of the rows. */
  private boolean isDirect(LosslessHeader header, int rows) {
    int width = layout.pieces().width();
    return header.isPaired() && header.rowSamples() == width && header.height() == rows;
  }

  private void scatter(LosslessJpeg jpeg, int rows, int[] into, int to, int left)
      throws DamagedData {
    int width = layout.pieces().width();
    int samples = jpeg.rowSamples() * jpeg.height();
    if (codes.length < samples) {
      codes = new short[samples];
    }
    jpeg.decode(codes);
    for (int y = 0; y < rows; y++) {
      SitePairs.put(codes, y * width, width, into, to + y * stride(), left);
    }
  }

  private void linearize(int[] pairs, int from, int count) {
    if (levels.linear().length == 0) {
      return;
    }
    for (int i = from; i < from + count; i++) {
      pairs[i] = levels.linearized(pairs[i] & 0xffff) | levels.linearized(pairs[i] >>> 16) << 16;
    }
  }
}

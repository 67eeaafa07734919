package org.scenespan.folder;

import java.io.IOException;
import java.util.Arrays;

/**
 * How one picture of a TIFF file lies in it (TIFF 6.0, sections 4 to 15), checked before memory is
 * taken for it.
 *
 * @param bits of a sample, the same for all
 * @param samples of a pixel
 * @param kind of the numbers
 * @param planar whether each sample has strips or tiles of its own
 * @param pieces the strips or tiles
 */
record TiffLayout(
    int width,
    int height,
    int bits,
    int samples,
    Kind kind,
    int photometric,
    int compression,
    int predictor,
    boolean planar,
    boolean bitsReversed,
    boolean bigEndian,
    Pieces pieces) {
  static final int GREY_WHITE_IS_ZERO = 0;
  static final int GREY = 1;
  static final int RGB = 2;
  static final int PALETTE = 3;
  static final int COLOUR_FILTER_ARRAY = 32803;
  static final int LINEAR_RAW = 34892;

  static final int UNCOMPRESSED = 1;
  static final int LZW = 5;
  static final int JPEG = 7;
  static final int DEFLATE = 8;
  static final int OLD_DEFLATE = 32946;
  static final int PACK_BITS = 32773;

  static final int NEW_SUBFILE_TYPE = 254;
  static final int IMAGE_WIDTH = 256;
  static final int IMAGE_LENGTH = 257;
  static final int BITS_PER_SAMPLE = 258;
  static final int COMPRESSION = 259;
  static final int PHOTOMETRIC = 262;
  private static final int FILL_ORDER = 266;
  private static final int SAMPLES_PER_PIXEL = 277;
  private static final int ROWS_PER_STRIP = 278;
  private static final int PLANAR_CONFIGURATION = 284;
  private static final int PREDICTOR = 317;
  private static final int TILE_WIDTH = 322;
  private static final int TILE_LENGTH = 323;
  private static final int SAMPLE_FORMAT = 339;

  /** Tells how many bytes can come of one, at most: what a small file cannot hold. */
  private static final long DEFLATE_GAIN = 1032;

  private static final long LZW_GAIN = 4096 * 8 / 12;
  private static final long PACK_BITS_GAIN = 128;

  /** Bytes of one expanded strip or tile: a 200-megapixel grey picture of 16 bits in one strip. */
  private static final long MAX_PIECE_BYTES = 512L << 20;

  /** What the numbers of a picture are. */
  enum Kind {
    UNSIGNED,
    FLOAT
  }

  /**
   * The strips or tiles, row by row from left to right, of a planar picture plane after plane.
   *
   * @param width of a piece: a strip's is the picture's, a tile may reach over the right edge
   * @param height of a piece; the last strip may have fewer rows, a tile has all
   */
  record Pieces(
      boolean tiled,
      int width,
      int height,
      int across,
      int down,
      double[] offsets,
      double[] lengths) {
    long offset(int piece) {
      return (long) offsets[piece];
    }

    long length(int piece) {
      return (long) lengths[piece];
    }
  }

  /**
   * @throws UnreadableFrame if a field is missing, makes no sense or is of a kind that is not read
   */
  static TiffLayout of(TiffStructure.Directory directory, boolean bigEndian)
      throws IOException, UnreadableFrame {
    long width = directory.whole(IMAGE_WIDTH, 0);
    long height = directory.whole(IMAGE_LENGTH, 0);
    PixelLimit.check(width, height);
    int samples = small(directory, SAMPLES_PER_PIXEL, 1, "samples to a pixel");
    if (!(samples >= 1 && samples <= 8)) {
      throw new UnreadableFrame("it has " + samples + " samples to a pixel");
    }
    int bits = one(directory, BITS_PER_SAMPLE, 1, "bits to a sample");
    if (!(bits >= 1 && bits <= 32)) {
      throw new UnreadableFrame("it has " + bits + " bits to a sample");
    }
    Kind kind =
        switch (one(directory, SAMPLE_FORMAT, 1, "kinds of samples")) {
          case 1, 4 -> Kind.UNSIGNED;
          case 3 -> Kind.FLOAT;
          default -> throw new UnreadableFrame("its samples are signed or complex numbers");
        };
    if (kind == Kind.FLOAT && bits != 16 && bits != 24 && bits != 32) {
      throw new UnreadableFrame("it has floating-point samples of " + bits + " bits");
    }
    boolean planar = samples > 1 && directory.whole(PLANAR_CONFIGURATION, 1) == 2;
    Pieces pieces = pieces(directory, (int) width, (int) height, planar ? samples : 1);
    TiffLayout layout =
        new TiffLayout(
            (int) width,
            (int) height,
            bits,
            samples,
            kind,
            (int) directory.whole(PHOTOMETRIC, -1),
            (int) directory.whole(COMPRESSION, UNCOMPRESSED),
            (int) directory.whole(PREDICTOR, 1),
            planar,
            directory.whole(FILL_ORDER, 1) == 2,
            bigEndian,
            pieces);
    layout.checkPredictor();
    layout.checkSizes();
    return layout;
  }

  private static int small(TiffStructure.Directory directory, int tag, int otherwise, String what)
      throws IOException, UnreadableFrame {
    long value = directory.whole(tag, otherwise);
    if (!(value >= 0 && value <= 1 << 16)) {
      throw new UnreadableFrame("it has " + value + " " + what);
    }
    return (int) value;
  }

  /** A field with a value to each sample, which must all be the same. */
  private static int one(TiffStructure.Directory directory, int tag, int otherwise, String what)
      throws IOException, UnreadableFrame {
    double[] values = directory.numbers(tag);
    for (double value : values) {
      if (value != values[0]) {
        throw new UnreadableFrame("it has different " + what + " side by side");
      }
    }
    return values.length == 0 ? otherwise : (int) values[0];
  }

  private static Pieces pieces(TiffStructure.Directory directory, int width, int height, int planes)
      throws IOException, UnreadableFrame {
    boolean tiled = directory.has(TiffStructure.TILE_OFFSETS);
    long pieceWidth = tiled ? directory.whole(TILE_WIDTH, 0) : width;
    long pieceHeight =
        tiled
            ? directory.whole(TILE_LENGTH, 0)
            : Math.min(height, directory.whole(ROWS_PER_STRIP, height));
    String what = tiled ? "tiles" : "strips";
    if (!(pieceWidth > 0 && pieceHeight > 0)) {
      throw new UnreadableFrame("its " + what + " have no rows or no columns");
    }
    PixelLimit.check(pieceWidth, pieceHeight);
    int across = (int) ((width + pieceWidth - 1) / pieceWidth);
    int down = (int) ((height + pieceHeight - 1) / pieceHeight);
    double[] offsets =
        directory.numbers(tiled ? TiffStructure.TILE_OFFSETS : TiffStructure.STRIP_OFFSETS);
    double[] lengths =
        directory.numbers(tiled ? TiffStructure.TILE_BYTES : TiffStructure.STRIP_BYTES);
    long needed = (long) across * down * planes;
    if (offsets.length < needed || lengths.length < needed) {
      throw new UnreadableFrame("it has " + offsets.length + " " + what + " and needs " + needed);
    }
    return new Pieces(tiled, (int) pieceWidth, (int) pieceHeight, across, down, offsets, lengths);
  }

  private void checkPredictor() throws UnreadableFrame {
    boolean packed = compression == LZW || compression == DEFLATE || compression == OLD_DEFLATE;
    boolean known =
        predictor == 1
            || predictor == 2 && kind == Kind.UNSIGNED
            || predictor == 3 && kind == Kind.FLOAT;
    if (packed && !known) {
      throw new UnreadableFrame("it has predictor " + predictor + ", which is not read");
    }
  }

  /** Whether differences were taken before packing. */
  boolean hasPredictor() {
    return predictor != 1
        && (compression == LZW || compression == DEFLATE || compression == OLD_DEFLATE);
  }

  /** Samples of a pixel within a piece. */
  int step() {
    return planar ? 1 : samples;
  }

  int bytesPerRow() {
    return (int) (((long) pieces.width * step() * bits + 7) / 8);
  }

  /** Rows of a piece in the n-th row of pieces: a tile has all of its rows. */
  int rowsIn(int down) {
    return pieces.tiled ? pieces.height : Math.min(pieces.height, height - down * pieces.height);
  }

  private void checkSizes() throws UnreadableFrame {
    if ((long) bytesPerRow() * pieces.height > MAX_PIECE_BYTES) {
      throw new UnreadableFrame("one of its strips or tiles is above 512 MiB");
    }
    long gain =
        switch (compression) {
          case UNCOMPRESSED -> 1;
          case LZW -> LZW_GAIN;
          case DEFLATE, OLD_DEFLATE -> DEFLATE_GAIN;
          case PACK_BITS -> PACK_BITS_GAIN;
          // A sample takes a bit at least.
          case JPEG -> 8L * 2;
          case 6 -> throw new UnreadableFrame("its pixels are a JPEG within a TIFF");
          default ->
              throw new UnreadableFrame(
                  photometric == COLOUR_FILTER_ARRAY || photometric == LINEAR_RAW
                      ? "its raw data is compressed (kind " + compression + ")"
                      : "its pixels are compressed (kind " + compression + ")");
        };
    int perPlane = pieces.across * pieces.down;
    int planes = planar ? samples : 1;
    for (int piece = 0; piece < perPlane * planes; piece++) {
      long wanted = (long) bytesPerRow() * rowsIn(piece % perPlane / pieces.across);
      if (!(pieces.lengths[piece] * gain >= wanted)) {
        String what = pieces.tiled ? "tile " : "strip ";
        throw new UnreadableFrame(what + piece + " is shorter than its rows");
      }
    }
  }

  @Override
  public String toString() {
    return width + " x " + height + ", " + bits + " bits, " + Arrays.toString(pieces.offsets);
  }
}

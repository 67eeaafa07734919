package org.scenespan.folder;

import java.io.IOException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.scenespan.frame.Mosaic;

/**
 * The sensor's picture in a DNG (DNG specification 1.6, chapter 4), as far as it is read: a Bayer
 * mosaic in uncompressed strips of 8, 10, 12, 14 or 16 bits.
 *
 * @param width sites of a stored row
 * @param height stored rows
 * @param active the part that sees light
 * @param strips where the rows lie
 */
record RawPicture(int width, int height, Area active, Strips strips, Mosaic mosaic) {
  private static final int COLOUR_FILTER_ARRAY = 32803;
  private static final int UNCOMPRESSED = 1;

  private static final int IMAGE_WIDTH = 256;
  private static final int IMAGE_LENGTH = 257;
  private static final int BITS_PER_SAMPLE = 258;
  private static final int COMPRESSION = 259;
  private static final int PHOTOMETRIC = 262;
  private static final int FILL_ORDER = 266;
  private static final int SAMPLES_PER_PIXEL = 277;
  private static final int ROWS_PER_STRIP = 278;
  private static final int CFA_REPEAT = 33421;
  private static final int CFA_PATTERN = 33422;
  private static final int CFA_LAYOUT = 50711;
  private static final int LINEARIZATION_TABLE = 50712;
  private static final int BLACK_LEVEL_REPEAT = 50713;
  private static final int BLACK_LEVEL = 50714;
  private static final int BLACK_LEVEL_DELTA_H = 50715;
  private static final int BLACK_LEVEL_DELTA_V = 50716;
  private static final int WHITE_LEVEL = 50717;
  private static final int ACTIVE_AREA = 50829;

  /** A rectangle of sites, the bottom and right edges not included. */
  record Area(int top, int left, int bottom, int right) {
    int width() {
      return right - left;
    }

    int height() {
      return bottom - top;
    }
  }

  /**
   * @param offsets where each strip begins in the file
   * @param rowsEach rows of a strip
   * @param bits of a code
   * @param bytesPerRow of a packed row
   */
  record Strips(List<Long> offsets, int rowsEach, int bits, int bytesPerRow) {
    long offsetOfRow(int row) {
      return offsets.get(row / rowsEach) + (long) (row % rowsEach) * bytesPerRow;
    }
  }

  /**
   * @throws UnreadableFrame if there is none, or it is of a kind that is not read
   */
  static RawPicture in(TiffStructure tiff) throws IOException, UnreadableFrame {
    TiffStructure.Directory directory =
        tiff.with(PHOTOMETRIC, COLOUR_FILTER_ARRAY)
            .orElseThrow(
                () -> new UnreadableFrame("it holds no sensor picture (no colour filter array)"));
    long width = directory.whole(IMAGE_WIDTH, 0);
    long height = directory.whole(IMAGE_LENGTH, 0);
    PixelLimit.check(width, height);
    long compression = directory.whole(COMPRESSION, UNCOMPRESSED);
    if (compression != UNCOMPRESSED) {
      throw new UnreadableFrame("its raw data is compressed (kind " + compression + ")");
    }
    if (directory.has(TiffStructure.TILE_OFFSETS)) {
      throw new UnreadableFrame("its raw data is in tiles");
    }
    requireNone(directory, LINEARIZATION_TABLE, "a linearization table");
    requireNone(directory, BLACK_LEVEL_DELTA_H, "black levels by the column");
    requireNone(directory, BLACK_LEVEL_DELTA_V, "black levels by the row");
    require(directory, SAMPLES_PER_PIXEL, 1, "samples to a site");
    require(directory, FILL_ORDER, 1, "as order of bits");
    require(directory, CFA_LAYOUT, 1, "as layout of sites");
    Strips strips = strips(directory, (int) width, (int) height);
    Area active = activeArea(directory, (int) width, (int) height);
    return new RawPicture((int) width, (int) height, active, strips, mosaic(directory, strips));
  }

  private static void requireNone(TiffStructure.Directory directory, int tag, String what)
      throws UnreadableFrame {
    if (directory.has(tag)) {
      throw new UnreadableFrame("its raw data has " + what);
    }
  }

  private static void require(TiffStructure.Directory directory, int tag, long wanted, String what)
      throws IOException, UnreadableFrame {
    long value = directory.whole(tag, wanted);
    if (value != wanted) {
      throw new UnreadableFrame("its raw data has " + value + " " + what);
    }
  }

  private static Strips strips(TiffStructure.Directory directory, int width, int height)
      throws IOException, UnreadableFrame {
    int bits = (int) directory.whole(BITS_PER_SAMPLE, 1);
    if (bits != 8 && bits != 10 && bits != 12 && bits != 14 && bits != 16) {
      throw new UnreadableFrame("its raw data has " + bits + " bits");
    }
    int rowsEach = (int) Math.min(height, directory.whole(ROWS_PER_STRIP, height));
    if (!(rowsEach > 0)) {
      throw new UnreadableFrame("its strips have " + rowsEach + " rows");
    }
    int bytesPerRow = (int) (((long) width * bits + 7) / 8);
    double[] offsets = directory.numbers(TiffStructure.STRIP_OFFSETS);
    double[] lengths = directory.numbers(TiffStructure.STRIP_BYTES);
    int needed = (height + rowsEach - 1) / rowsEach;
    if (offsets.length < needed || lengths.length < needed) {
      throw new UnreadableFrame("it has " + offsets.length + " strips and needs " + needed);
    }
    for (int i = 0; i < needed; i++) {
      long rows = Math.min(rowsEach, height - (long) i * rowsEach);
      if (!(lengths[i] >= rows * bytesPerRow)) {
        throw new UnreadableFrame("strip " + i + " is shorter than its rows");
      }
    }
    List<Long> starts = Arrays.stream(offsets).mapToObj(offset -> (long) offset).toList();
    return new Strips(starts, rowsEach, bits, bytesPerRow);
  }

  private static Area activeArea(TiffStructure.Directory directory, int width, int height)
      throws IOException, UnreadableFrame {
    double[] edges = directory.numbers(ACTIVE_AREA);
    Area area =
        edges.length == 4
            ? new Area((int) edges[0], (int) edges[1], (int) edges[2], (int) edges[3])
            : new Area(0, 0, height, width);
    boolean inside =
        area.top >= 0 && area.left >= 0 && area.bottom <= height && area.right <= width;
    if (!(inside && area.width() >= 2 && area.height() >= 2)) {
      throw new UnreadableFrame("its active area " + area + " is not inside of the picture");
    }
    return area;
  }

  private static Mosaic mosaic(TiffStructure.Directory directory, Strips strips)
      throws IOException, UnreadableFrame {
    double[] repeat = directory.numbers(CFA_REPEAT);
    double[] pattern = directory.numbers(CFA_PATTERN);
    if (!Arrays.equals(repeat, new double[] {2, 2}) || pattern.length != Mosaic.SITES) {
      throw new UnreadableFrame("its colour filter array is not one of 2 x 2 sites");
    }
    StringBuilder colours = new StringBuilder();
    for (double colour : pattern) {
      colours.append(colour == 0 ? 'R' : colour == 1 ? 'G' : colour == 2 ? 'B' : '?');
    }
    double full = (1 << strips.bits()) - 1;
    double[] white = directory.numbers(WHITE_LEVEL);
    try {
      return new Mosaic(
          colours.toString(),
          blackLevels(directory),
          white.length == 0 ? full : white[0],
          strips.bits());
    } catch (IllegalArgumentException e) {
      throw new UnreadableFrame(e.getMessage(), e);
    }
  }

  /** One black level to a site, of a pattern of 1 or 2 rows and columns. */
  private static List<Double> blackLevels(TiffStructure.Directory directory)
      throws IOException, UnreadableFrame {
    double[] repeat = directory.numbers(BLACK_LEVEL_REPEAT);
    int rows = repeat.length == 2 ? (int) repeat[0] : 1;
    int columns = repeat.length == 2 ? (int) repeat[1] : 1;
    double[] levels = directory.numbers(BLACK_LEVEL);
    if (levels.length == 0) {
      return List.of(0.0, 0.0, 0.0, 0.0);
    }
    boolean small = (rows == 1 || rows == 2) && (columns == 1 || columns == 2);
    if (!small || levels.length != rows * columns) {
      throw new UnreadableFrame("its black levels are not in a pattern of 2 x 2 at most");
    }
    List<Double> sites = new ArrayList<>();
    for (int site = 0; site < Mosaic.SITES; site++) {
      sites.add(levels[site / 2 % rows * columns + site % 2 % columns]);
    }
    return sites;
  }
}

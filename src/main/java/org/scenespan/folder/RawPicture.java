package org.scenespan.folder;

import java.io.IOException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import org.scenespan.frame.Mosaic;

/**
 * The sensor's picture in a DNG (DNG specification 1.6, chapter 4): a Bayer mosaic, or channels
 * side by side (linear DNG), of 8 to 16 bits, in strips or tiles, uncompressed or in lossless JPEG.
 *
 * @param active the part that sees light
 * @param mosaic the colours of the sites; empty for a linear DNG
 */
record RawPicture(TiffLayout layout, Area active, RawLevels levels, Optional<Mosaic> mosaic) {
  private static final int CFA_REPEAT = 33421;
  private static final int CFA_PATTERN = 33422;
  private static final int CFA_LAYOUT = 50711;
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

  /** The directory of the biggest sensor picture of a file, if it has one. */
  static Optional<TiffStructure.Directory> directoryIn(TiffStructure tiff)
      throws IOException, UnreadableFrame {
    TiffStructure.Directory biggest = null;
    for (TiffStructure.Directory directory : tiff.directories()) {
      long kind = directory.whole(TiffLayout.PHOTOMETRIC, -1);
      if (kind != TiffLayout.COLOUR_FILTER_ARRAY && kind != TiffLayout.LINEAR_RAW) {
        continue;
      }
      if (biggest == null || size(directory) > size(biggest)) {
        biggest = directory;
      }
    }
    return Optional.ofNullable(biggest);
  }

  private static double size(TiffStructure.Directory directory)
      throws IOException, UnreadableFrame {
    return (double) directory.whole(TiffLayout.IMAGE_WIDTH, 0)
        * directory.whole(TiffLayout.IMAGE_LENGTH, 0);
  }

  /**
   * @throws UnreadableFrame if it is of a kind that is not read
   */
  static RawPicture of(TiffStructure.Directory directory, boolean bigEndian)
      throws IOException, UnreadableFrame {
    TiffLayout layout = TiffLayout.of(directory, bigEndian);
    if (layout.kind() != TiffLayout.Kind.UNSIGNED || !(layout.bits() >= 8 && layout.bits() <= 16)) {
      throw new UnreadableFrame(
          layout.kind() == TiffLayout.Kind.FLOAT
              ? "its raw data is in floating point"
              : "its raw data has " + layout.bits() + " bits");
    }
    Area active = activeArea(directory, layout);
    RawLevels levels = RawLevels.of(directory, layout, active);
    if (layout.photometric() == TiffLayout.LINEAR_RAW) {
      if (layout.samples() != 1 && layout.samples() != 3) {
        throw new UnreadableFrame("its raw data has " + layout.samples() + " channels");
      }
      return new RawPicture(layout, active, levels, Optional.empty());
    }
    if (layout.samples() != 1) {
      throw new UnreadableFrame("its raw data has " + layout.samples() + " samples to a site");
    }
    if (layout.compression() != TiffLayout.UNCOMPRESSED
        && layout.compression() != TiffLayout.JPEG) {
      throw new UnreadableFrame("its raw data is compressed (kind " + layout.compression() + ")");
    }
    if (layout.bitsReversed()) {
      throw new UnreadableFrame("its raw data fills bytes from the lowest bit on");
    }
    long arrangement = directory.whole(CFA_LAYOUT, 1);
    if (arrangement != 1) {
      throw new UnreadableFrame("its raw data has layout " + arrangement + " of sites");
    }
    return new RawPicture(layout, active, levels, Optional.of(mosaic(directory, layout, levels)));
  }

  private static Area activeArea(TiffStructure.Directory directory, TiffLayout layout)
      throws IOException, UnreadableFrame {
    double[] edges = directory.numbers(ACTIVE_AREA);
    Area area =
        edges.length == 4
            ? new Area((int) edges[0], (int) edges[1], (int) edges[2], (int) edges[3])
            : new Area(0, 0, layout.height(), layout.width());
    boolean inside =
        area.top >= 0
            && area.left >= 0
            && area.bottom <= layout.height()
            && area.right <= layout.width();
    if (!(inside && area.width() >= 2 && area.height() >= 2)) {
      throw new UnreadableFrame("its active area " + area + " is not inside of the picture");
    }
    return area;
  }

  private static Mosaic mosaic(
      TiffStructure.Directory directory, TiffLayout layout, RawLevels levels)
      throws IOException, UnreadableFrame {
    double[] repeat = directory.numbers(CFA_REPEAT);
    double[] pattern = directory.numbers(CFA_PATTERN);
    if (!Arrays.equals(repeat, new double[] {2, 2}) || pattern.length != Mosaic.SITES) {
      throw new UnreadableFrame("its colour filters are not in a pattern of 2 x 2 sites");
    }
    StringBuilder colours = new StringBuilder();
    List<Double> black = new ArrayList<>();
    for (int site = 0; site < Mosaic.SITES; site++) {
      colours.append(
          pattern[site] >= 0 && pattern[site] <= 2 ? "RGB".charAt((int) pattern[site]) : '?');
      black.add(levels.isSimple() ? levels.blackAt(site / 2, site % 2, 0) : levels.black()[0]);
    }
    // A damaged lossless JPEG can give any code of 16 bits, and so can a linearization table.
    boolean wide = layout.compression() == TiffLayout.JPEG || levels.linear().length > 0;
    boolean outside = levels.white()[0] >= 1 << layout.bits();
    try {
      return new Mosaic(
          colours.toString(), black, levels.white()[0], wide || outside ? 16 : layout.bits());
    } catch (IllegalArgumentException e) {
      throw new UnreadableFrame(e.getMessage(), e);
    }
  }
}

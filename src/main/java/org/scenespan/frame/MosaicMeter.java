package org.scenespan.frame;

import java.util.List;
import java.util.Optional;

/**
 * Counts the blocks of a raw frame, two rows of sites at a time, with nothing left out. Not for
 * sharing between threads; a frame may be cut into parts that are counted apart and put together.
 *
 * <p>A block of four sites counts as one pixel. Its green is the mean of both green sites, but
 * clipped as soon as one of them is, and crushed only when both are. Luminance takes the sensor's
 * own primaries for those of BT.709, which is near enough for a histogram in stops.
 */
public final class MosaicMeter {
  private final int columns;
  private final int rows;
  private final int width;
  private final int height;
  private final Texture texture;
  private final ClippedRuns runs;

  /** Nothing where the sites have black levels of their own or one that is no whole number. */
  private final Optional<EvenBlocks> even;

  /** For codes where the other is not there, and for light. */
  private final UnevenBlocks uneven;

  private int counted;

  /**
   * @param width sites; a last odd column is left out
   * @param height sites; a last odd row is left out
   */
  public MosaicMeter(int width, int height, Mosaic mosaic) {
    this(width, height, mosaic, 0, height);
  }

  /**
   * For a part of a frame's rows.
   *
   * @param width sites; a last odd column is left out
   * @param height sites of the part; a last odd row is left out
   * @param top even row of the frame in which the part begins
   * @param of sites of the frame from top to bottom
   */
  public MosaicMeter(int width, int height, Mosaic mosaic, int top, int of) {
    if (!(width >= 2 && height >= 2)) {
      throw new IllegalArgumentException(
          "a raw frame's size (" + width + " x " + height + ") must be 2 or more");
    }
    this.width = width;
    this.height = height;
    this.columns = width / 2;
    this.rows = height / 2;
    this.texture = new Texture(columns, of / 2, top / 2);
    this.runs = new ClippedRuns(rows);
    this.even = EvenBlocks.fits(mosaic) ? Optional.of(EvenBlocks.of(mosaic)) : Optional.empty();
    this.uneven = even.isPresent() ? UnevenBlocks.ofLight(mosaic) : UnevenBlocks.ofCodes(mosaic);
  }

  /** Blocks from left to right. */
  public int columns() {
    return columns;
  }

  /** Blocks from top to bottom. */
  public int rows() {
    return rows;
  }

  /**
   * Counts the next row of blocks.
   *
   * @param upper codes of the upper row of sites, unsigned
   * @param lower codes of the lower row of sites, unsigned
   * @param flags takes the {@link PixelFlags} of each block
   */
  public void blockRow(short[] upper, short[] lower, byte[] flags) {
    pairRow(pairs(upper), 0, pairs(lower), 0, flags);
  }

  private int[] pairs(short[] codes) {
    int[] pairs = new int[columns];
    for (int x = 0; x < columns; x++) {
      pairs[x] = codes[2 * x] & 0xffff | codes[2 * x + 1] << 16;
    }
    return pairs;
  }

  /**
   * Counts the next row of blocks.
   *
   * @param upper two sites of the upper row to a number: the left one in the low 16 bits
   * @param lower likewise of the lower row
   * @param flags takes the {@link PixelFlags} of each block
   * @return whether any block is flagged
   */
  public boolean pairRow(int[] upper, int upperAt, int[] lower, int lowerAt, byte[] flags) {
    begin();
    double[] light = texture.row();
    boolean any;
    if (even.isPresent()) {
      any = even.get().row(upper, upperAt, lower, lowerAt, columns, light, flags);
    } else {
      any = uneven.row(upper, upperAt, lower, lowerAt, columns, light, flags);
    }
    end(any, flags);
    return any;
  }

  /**
   * Counts the next row of blocks of a sensor whose black level is not the same all over.
   *
   * @param upper linear light of the upper row of sites relative to saturation, 1 where clipped
   * @param lower likewise of the lower row
   * @param flags takes the {@link PixelFlags} of each block
   * @return whether any block is flagged
   */
  public boolean lightRow(double[] upper, double[] lower, byte[] flags) {
    begin();
    boolean any = uneven.lightRow(upper, lower, columns, texture.row(), flags);
    end(any, flags);
    return any;
  }

  private void begin() {
    if (counted == rows) {
      throw new IllegalStateException("more than " + rows + " rows of blocks");
    }
    counted++;
  }

  private void end(boolean any, byte[] flags) {
    if (any) {
      runs.row(counted - 1, flags, columns);
    }
    texture.endRow();
  }

  /**
   * @throws IllegalStateException if a row is missing
   */
  public FrameMeasure measure() {
    return measure(List.of(this));
  }

  /**
   * What the parts of one frame tell together.
   *
   * @param parts from the top to the bottom, of one width; all but the last of an even height
   * @throws IllegalStateException if a row is missing
   */
  public static FrameMeasure measure(List<MosaicMeter> parts) {
    MosaicMeter first = parts.get(0);
    LogHistogram.Builder[] channels = new LogHistogram.Builder[5];
    for (int i = 0; i < channels.length; i++) {
      channels[i] = new LogHistogram.Builder();
    }
    long[] clipped = new long[4];
    long[] crushed = new long[4];
    int height = parts.stream().mapToInt(part -> part.height).sum();
    Texture texture = new Texture(first.columns, height / 2);
    long blocks = 0;
    for (MosaicMeter part : parts) {
      if (part.counted != part.rows) {
        throw new IllegalStateException(
            "only " + part.counted + " of " + part.rows + " rows were counted");
      }
      part.uneven.addTo(channels, clipped, crushed);
      part.even.ifPresent(one -> one.addTo(channels, clipped, crushed));
      texture.append(part.texture);
      blocks += (long) part.columns * part.rows;
    }
    return new FrameMeasure(
        first.width,
        height,
        FrameSource.RAW,
        blocks,
        new PixelCounts(clipped[0], clipped[1], clipped[2], clipped[3]),
        new PixelCounts(crushed[0], crushed[1], crushed[2], crushed[3]),
        channels[0].build(),
        channels[1].build(),
        channels[2].build(),
        channels[3].build(),
        channels[4].build(),
        texture.sharpness(),
        ClippedRuns.areas(parts.stream().map(part -> part.runs).toList(), first.columns),
        texture.regions());
  }
}

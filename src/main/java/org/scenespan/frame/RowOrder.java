package org.scenespan.frame;

/**
 * The order in which a row's {@linkplain PackedPixel packed pixels} lie: column 0 of every group of
 * sixteen neighbouring columns, then column 1 of every group, up to column 15. So they come out of
 * blocks of 8 x 8 that are worked on many at a time, and a column's neighbour is at the same place
 * of the run beside its own.
 *
 * <p>A last group of fewer columns has places that stand for nothing.
 *
 * @param width columns
 */
public record RowOrder(int width) {
  /** Columns to a group. */
  public static final int GROUP = 16;

  /** Groups, the last one whole or not: how long the run of one column of every group is. */
  public int groups() {
    return (width + GROUP - 1) / GROUP;
  }

  /** Places of a row. */
  public int length() {
    return GROUP * groups();
  }

  /** How many groups have a column. */
  public int groupsWith(int column) {
    return (width - column + GROUP - 1) / GROUP;
  }

  /** The place of a column of the picture. */
  public int placeOf(int x) {
    return x % GROUP * groups() + x / GROUP;
  }
}

package org.scenespan.folder.jpeg;

import java.util.Arrays;

/**
 * Coefficients of neighbouring coded units of one row: of as many as fill a batch of the {@link
 * InverseTransform} with each of their blocks.
 *
 * <p>A batch has one block of every {@linkplain org.scenespan.frame.RowOrder group} of sixteen
 * pixel columns: units of eight columns come in turn into the first batches and the others.
 */
final class Segment {
  /** Groups of pixel columns. */
  static final int GROUPS = InverseTransform.BATCH;

  /** The coefficients of each block of the units of a group. */
  final int[][] batches;

  private final int blocksPerMcu;
  private final int unitsPerGroup;

  Segment(Layout layout) {
    blocksPerMcu = layout.blocksPerMcu();
    unitsPerGroup = unitsPerGroup(layout);
    batches = new int[unitsPerGroup * blocksPerMcu][InverseTransform.COEFFICIENTS];
  }

  private static int unitsPerGroup(Layout layout) {
    return layout.sampling().across == 2 ? 1 : 2;
  }

  /** Segments of a row. */
  static int ofRow(Layout layout) {
    return (Samples.groups(layout) + GROUPS - 1) / GROUPS;
  }

  /** Units of a row's segment. */
  static int units(Layout layout, int segment) {
    int each = GROUPS * unitsPerGroup(layout);
    return Math.min(each, layout.mcusPerRow() - segment * each);
  }

  /** The batch of the first of a unit's blocks; the others follow. */
  int batchOf(int unit) {
    return unit % unitsPerGroup * blocksPerMcu;
  }

  /** The column of each batch that a unit's blocks lie in. */
  int columnOf(int unit) {
    return unit / unitsPerGroup;
  }

  void clear() {
    for (int[] batch : batches) {
      Arrays.fill(batch, 0);
    }
  }
}

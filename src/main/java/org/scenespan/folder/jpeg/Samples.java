package org.scenespan.folder.jpeg;

import org.scenespan.frame.RowOrder;

/**
 * The samples of one row of coded units, several to a number, so that what a thread works on stays
 * in the cache beside it.
 *
 * <p>A row of a component with a sample to each pixel column has four to a number, from the lowest
 * byte on: first columns 0 to 3 of every group of sixteen, then columns 4 to 7 and so on. One of
 * half the width has two to a number, in its lower and its upper half: first columns 0 and 1 of
 * every group of eight, then columns 2 and 3 and so on. Either takes four numbers to a group.
 */
final class Samples {
  /** Numbers that the samples of a group of sixteen pixel columns take. */
  static final int RUNS = 4;

  /** By component and row. */
  final int[][][] planes;

  Samples(Layout layout) {
    Layout.Sampling sampling = layout.sampling();
    planes = new int[sampling.components][][];
    for (int c = 0; c < planes.length; c++) {
      planes[c] = new int[sampling.down(c) * 8][RUNS * groups(layout)];
    }
  }

  /** Groups of {@link RowOrder#GROUP} columns that the units of a row fill. */
  static int groups(Layout layout) {
    return layout.sampling().across == 2 ? layout.mcusPerRow() : (layout.mcusPerRow() + 1) / 2;
  }
}

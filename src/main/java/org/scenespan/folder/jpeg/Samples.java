package org.scenespan.folder.jpeg;

/**
 * The samples of one row of coded units. A plane with a sample to each pixel column has those of
 * the even columns first and those of the odd ones from its middle on, so that both halves can be
 * joined to a plane of half the width with loops of a step of one; a plane of half the width has
 * them in their order, with one more on either side.
 */
final class Samples {
  /** By component and row. */
  final int[][][] planes;

  Samples(Layout layout) {
    Layout.Sampling sampling = layout.sampling();
    planes = new int[sampling.components][][];
    for (int c = 0; c < planes.length; c++) {
      int length = layout.mcusPerRow() * sampling.across(c) * 8 + 2;
      planes[c] = new int[sampling.down(c) * 8][length];
    }
  }
}

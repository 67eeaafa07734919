package org.scenespan.folder.jpeg;

/**
 * How a baseline picture is coded (T.81, annex B): its header, read.
 *
 * @param mcusPerRow minimum coded units in a row of them
 * @param restartInterval units between restart markers, 0 for none
 * @param componentOf component of each block of a unit, in the order of the codes
 * @param dcOf DC table of each block of a unit
 * @param acOf AC table of each block of a unit
 * @param quantisation of each component, in zigzag order
 */
record Layout(
    int width,
    int height,
    Sampling sampling,
    int mcusPerRow,
    int mcuRows,
    int restartInterval,
    int[] componentOf,
    HuffmanTable[] dcOf,
    HuffmanTable[] acOf,
    int[][] quantisation,
    int dataStart) {

  /** Pixels to a sample of chroma. */
  enum Sampling {
    GREY(1, 1, 1),
    FULL(3, 1, 1),
    HALF_WIDTH(3, 2, 1),
    QUARTER(3, 2, 2);

    final int components;
    final int across;
    final int down;

    Sampling(int components, int across, int down) {
      this.components = components;
      this.across = across;
      this.down = down;
    }

    /** Blocks of a component side by side in a unit. */
    int across(int component) {
      return component == 0 ? across : 1;
    }

    /** Blocks of a component one above the other in a unit. */
    int down(int component) {
      return component == 0 ? down : 1;
    }

    /** Whether a component has a sample to each pixel column. */
    boolean isWide(int component) {
      return across == 1 || component == 0;
    }

    /** Blocks before a component's first in a unit. */
    int blocksBefore(int component) {
      return component == 0 ? 0 : across * down + component - 1;
    }
  }

  int blocksPerMcu() {
    return componentOf.length;
  }

  int blocksPerRow() {
    return mcusPerRow * blocksPerMcu();
  }

  long blocks() {
    return (long) blocksPerRow() * mcuRows;
  }
}

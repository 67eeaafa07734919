package org.scenespan.folder.jpeg;

import java.util.Arrays;

/**
 * Blocks decoded from one part of a scan, as the coefficients that are not zero.
 *
 * <p>A coefficient is one int: its value in the upper half, its place in zigzag order in the lower.
 * The first one of each block is its DC, summed up from the start of the part, so that the part's
 * true start only adds a constant to each component.
 */
final class Chunk {
  /** Coefficients, and one place that is written in vain. */
  private static final int MOST_PER_BLOCK = 65;

  final Payload payload = new Payload();

  /** The part of the file that the payload is made from. */
  final Window window = new Window();

  /** Coefficients of all blocks. */
  int[] tokens;

  /** First coefficient of each block, and behind the last one the end. */
  int[] firstToken;

  /** Payload bit at which each block starts, and behind the last one the end. */
  int[] firstBit;

  /** Blocks. */
  int blocks;

  /** Number of the first block within its unit. */
  int firstPhase;

  /** The last block that broke off because its bits are no code, −1 for none; fillers apart. */
  int lastBroken;

  /** The first block that broke off among the filling bits of the last byte, −1 for none. */
  int firstFiller;

  /** Payload bits that belong to this part; a block that starts before is decoded to its end. */
  int ownBits;

  /** Restart intervals in the part, and the number of the marker before the first. */
  int intervals;

  int firstMarker;

  /**
   * @param bytes of a part, from which the room at first follows
   */
  Chunk(int bytes) {
    tokens = new int[Math.max(4 * MOST_PER_BLOCK, bytes)];
    firstToken = new int[Math.max(16, bytes / 16)];
    firstBit = new int[firstToken.length];
  }

  void clear(int phase) {
    blocks = 0;
    firstPhase = phase;
    lastBroken = -1;
    firstFiller = -1;
    intervals = 0;
    firstMarker = -1;
    firstToken[0] = 0;
  }

  /** Whether it takes no more than this many coefficients, and bytes of a part. */
  boolean isWithin(int most) {
    return tokens.length <= Math.max(4 * MOST_PER_BLOCK, most)
        && payload.capacity() <= most + Payload.SLACK_BYTES;
  }

  /** Makes room for one more block of the most coefficients. */
  void reserve() {
    if (blocks + 2 > firstToken.length) {
      firstToken = Arrays.copyOf(firstToken, firstToken.length * 3 / 2);
      firstBit = Arrays.copyOf(firstBit, firstBit.length * 3 / 2);
    }
    if (firstToken[blocks] + MOST_PER_BLOCK > tokens.length) {
      tokens = Arrays.copyOf(tokens, tokens.length + tokens.length / 2);
    }
  }

  int endBit() {
    return firstBit[blocks];
  }

  int phaseOf(int block, int blocksPerMcu) {
    return (firstPhase + block) % blocksPerMcu;
  }

  /** The block of a phase that starts at a bit, or −1. */
  int startingAt(int bit, int phase, int blocksPerMcu) {
    int block = Arrays.binarySearch(firstBit, 0, blocks, bit);
    return block >= 0 && phaseOf(block, blocksPerMcu) == phase ? block : -1;
  }
}

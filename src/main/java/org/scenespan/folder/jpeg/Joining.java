package org.scenespan.folder.jpeg;

import java.util.ArrayList;
import java.util.Iterator;
import java.util.List;

/**
 * Puts the chunks' blocks into one sequence. The true start of a guessed chunk is where the blocks
 * before it end; from there blocks are decoded once more until one starts where one of the chunk's
 * does, in the same place of its unit: from then on the chunk's are the true ones, but for a
 * constant in each component's DC.
 */
final class Joining {
  private record Run(Chunk chunk, long from, long to, int local, int[] dc, boolean reusable) {}

  /** Bytes that a guess mostly takes to fall in step. */
  private static final int BRIDGE_BYTES = 1 << 12;

  private final Layout layout;
  private final BlockDecoder decoder;
  private final List<Run> runs = new ArrayList<>();
  private long blocks;
  private int intervals;
  private Chunk before;

  Joining(Layout layout) {
    this.layout = layout;
    this.decoder = new BlockDecoder(layout);
  }

  /** Blocks so far. */
  synchronized long blocks() {
    return blocks;
  }

  /** Appends the next chunk; one at a time. */
  void append(Chunk chunk) {
    if (layout.restartInterval() > 0) {
      appendIntervals(chunk);
    } else if (before == null) {
      add(chunk, 0, new int[3], true);
      before = chunk;
    } else {
      appendGuessed(chunk);
    }
  }

  private void appendIntervals(Chunk chunk) {
    if (chunk.intervals > 0 && (chunk.firstMarker + 1) % 8 != intervals % 8) {
      throw new Doubt("a restart marker out of its turn");
    }
    intervals += chunk.intervals;
    add(chunk, 0, new int[3], true);
    before = chunk;
  }

  private void appendGuessed(Chunk chunk) {
    int perMcu = layout.blocksPerMcu();
    int[] dc = lastDc();
    int bit = before.endBit() - before.ownBits;
    int phase = before.phaseOf(before.blocks, perMcu);
    int met = chunk.startingAt(bit, phase, perMcu);
    Chunk last = before;
    if (met < 0) {
      Chunk bridge = new Chunk(BRIDGE_BYTES);
      bridge.clear(phase);
      bridge.firstBit[0] = bit;
      met = decoder.decodeUntilMet(bridge, chunk, bit);
      add(bridge, 0, dc, false);
      last = bridge;
      dc = lastDc();
    }
    if (met < chunk.blocks) {
      int[] own = dcBefore(chunk, met);
      for (int i = 0; i < 3; i++) {
        dc[i] -= own[i];
      }
      add(chunk, met, dc, true);
      before = chunk;
    } else {
      // The whole part was decoded again; its chunk is of no use.
      last.ownBits = chunk.ownBits;
      before = last;
      unused = chunk;
    }
  }

  /** A chunk whose blocks were all wrong, free again. */
  private Chunk unused;

  private synchronized void add(Chunk chunk, int local, int[] dc, boolean reusable) {
    int count = chunk.blocks - local;
    if (count > 0) {
      runs.add(new Run(chunk, blocks, blocks + count, local, dc.clone(), reusable));
    }
    blocks += count;
  }

  /** The DC of each component at the end of the sequence. */
  private synchronized int[] lastDc() {
    Run run = runs.get(runs.size() - 1);
    int[] dc = dcBefore(run.chunk, run.chunk.blocks);
    for (int i = 0; i < 3; i++) {
      dc[i] += run.dc[i];
    }
    return dc;
  }

  /** The sums that a chunk had when it came to a block, 0 where it had none. */
  private int[] dcBefore(Chunk chunk, int block) {
    int[] dc = new int[3];
    int perMcu = layout.blocksPerMcu();
    for (int back = Math.min(block, perMcu); back > 0; back--) {
      int earlier = block - back;
      int component = layout.componentOf()[chunk.phaseOf(earlier, perMcu)];
      dc[component] = chunk.tokens[chunk.firstToken[earlier]] >> 16;
    }
    return dc;
  }

  /** What has the blocks of a row of units. */
  synchronized List<Piece> row(int row) {
    long from = (long) row * layout.blocksPerRow();
    long to = from + layout.blocksPerRow();
    List<Piece> pieces = new ArrayList<>();
    for (Run run : runs) {
      long first = Math.max(from, run.from);
      long end = Math.min(to, run.to);
      if (first < end) {
        pieces.add(
            new Piece(
                run.chunk,
                (int) (first - from),
                (int) (end - from),
                (int) (first - run.from) + run.local,
                run.dc,
                run.chunk.lastBroken));
      }
    }
    return pieces;
  }

  /** Lets go of what lies before a row, and answers the chunks that are free again. */
  synchronized List<Chunk> release(int row) {
    long from = (long) row * layout.blocksPerRow();
    List<Chunk> free = new ArrayList<>();
    Iterator<Run> each = runs.iterator();
    while (each.hasNext()) {
      Run run = each.next();
      if (run.to > from || !each.hasNext()) {
        break;
      }
      each.remove();
      if (run.reusable) {
        free.add(run.chunk);
      }
    }
    if (unused != null) {
      free.add(unused);
      unused = null;
    }
    return free;
  }

  /**
   * Checks that the codes end where the picture does: with less than a byte of filling.
   *
   * @throws Doubt if they do not
   */
  synchronized void finish() {
    if (runs.isEmpty()) {
      throw new Doubt("a scan without codes");
    }
    Run last = runs.get(runs.size() - 1);
    long needed = layout.blocks() - last.from + last.local;
    if (!(needed > 0 && needed <= last.chunk.blocks)) {
      throw new Doubt("more or fewer codes than the picture has blocks");
    }
    // A last part too short for a block of its own has no bits to compare with.
    if (layout.restartInterval() == 0 && last.chunk != before) {
      throw new Doubt("a last part without blocks");
    }
    int filler = last.chunk.firstFiller;
    if (filler >= 0 && filler < needed) {
      throw new Doubt("bits that are no code");
    }
    int filling = last.chunk.ownBits - last.chunk.firstBit[(int) needed];
    if (!(filling >= 0 && filling < 8)) {
      throw new Doubt("codes behind the last block");
    }
    if (layout.restartInterval() > 0) {
      long units = (long) layout.mcusPerRow() * layout.mcuRows();
      long each = layout.restartInterval();
      if (intervals != (units + each - 1) / each) {
        throw new Doubt("more or fewer restart intervals than the picture has");
      }
    }
  }
}

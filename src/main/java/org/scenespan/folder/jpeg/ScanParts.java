package org.scenespan.folder.jpeg;

/**
 * Cuts a scan into parts that are decoded on their own. With restart markers a part is the
 * intervals that begin in it; without, it begins anywhere, and its start in the codes is a guess
 * that {@link Joining} proves or replaces.
 */
final class ScanParts {
  /** Bytes of a part: big against the few hundred that a wrong start costs. */
  private static final int PART_BYTES = 1 << 17;

  private static final int RST0 = 0xd0;
  private static final int RST7 = 0xd7;

  private final Layout layout;
  private final byte[] file;
  private final int start;
  private final int end;

  /**
   * @param end position behind the picture's end mark
   */
  ScanParts(Layout layout, byte[] file, int end) {
    this.layout = layout;
    this.file = file;
    this.start = layout.dataStart();
    this.end = end - 2;
  }

  int count() {
    return Math.max(1, (end - start + PART_BYTES - 1) / PART_BYTES);
  }

  /** Decodes one part; any thread, each with its own decoder and chunk. */
  void decode(int part, Chunk chunk, BlockDecoder decoder) {
    chunk.clear(0);
    if (layout.restartInterval() == 0) {
      decodeGuessed(part, chunk, decoder);
    } else {
      decodeIntervals(part, chunk, decoder);
    }
  }

  private void decodeGuessed(int part, Chunk chunk, BlockDecoder decoder) {
    Payload payload = chunk.payload;
    int from = cut(part);
    int to = cut(part + 1);
    int further = Math.min(end, to + Payload.SLACK_BYTES);
    payload.clear(further - from);
    append(payload, from, to);
    chunk.ownBits = payload.length() * 8;
    append(payload, to, further);
    payload.seal();
    chunk.firstBit[0] = 0;
    decoder.decode(chunk, payload, 0, chunk.ownBits);
  }

  private void append(Payload payload, int from, int to) {
    if (payload.append(file, from, to) < to) {
      throw new Doubt("a marker among the codes");
    }
  }

  /** Where a part begins, never between 0xff and its zero. */
  private int cut(int part) {
    long nominal = start + (long) part * PART_BYTES;
    if (nominal >= end) {
      return end;
    }
    int at = (int) nominal;
    return at > start && file[at - 1] == -1 ? at + 1 : at;
  }

  private void decodeIntervals(int part, Chunk chunk, BlockDecoder decoder) {
    Payload payload = chunk.payload;
    int from = part == 0 ? start : restart(cut(part));
    int to = part + 1 >= count() ? end : restart(cut(part + 1));
    payload.clear(to - from);
    chunk.firstBit[0] = 0;
    if (part == 0) {
      chunk.firstMarker = 7; // The one before 0, in the turn of eight.
    }
    int at = from;
    while (at < to) {
      if (at > start) {
        int number = (file[at + 1] & 0xff) - RST0;
        if (chunk.firstMarker < 0) {
          chunk.firstMarker = number;
        } else if ((chunk.firstMarker + chunk.intervals) % 8 != number) {
          throw new Doubt("a restart marker out of its turn");
        }
        at += 2;
      }
      int begin = payload.length();
      int stop = payload.append(file, at, to);
      if (stop < to && !isRestart(stop)) {
        throw new Doubt("a marker among the codes");
      }
      payload.seal();
      boolean last = stop == end;
      int bit =
          decoder.interval(
              chunk, payload, begin * 8, payload.length() * 8, layout.restartInterval());
      boolean filled =
          payload.length() * 8 - bit < 8 && chunk.lastBroken < 0 && chunk.firstFiller < 0;
      if (!last && !(filled && isWhole(chunk))) {
        throw new Doubt("a restart interval of another length");
      }
      chunk.intervals++;
      at = stop;
    }
    chunk.ownBits = payload.length() * 8;
  }

  private boolean isWhole(Chunk chunk) {
    long each = (long) layout.restartInterval() * layout.blocksPerMcu();
    return chunk.blocks == each * (chunk.intervals + 1);
  }

  /** The first restart marker at or behind a position, or the end. */
  private int restart(int position) {
    for (int at = position; at + 1 < end; at++) {
      if (file[at] == -1 && isRestart(at)) {
        return at;
      }
    }
    return end;
  }

  private boolean isRestart(int at) {
    int marker = file[at + 1] & 0xff;
    return marker >= RST0 && marker <= RST7;
  }
}

package org.scenespan.folder.jpeg;

/**
 * Cuts a scan into parts that are decoded on their own. With restart markers a part is the
 * intervals that begin in it; without, it begins anywhere, and its start in the codes is a guess
 * that {@link Joining} proves or replaces.
 */
final class ScanParts {
  /** Bytes that are looked at together for a restart marker. */
  private static final int SEARCH_BYTES = 1 << 14;

  private static final int RST0 = 0xd0;
  private static final int RST7 = 0xd7;

  private final Layout layout;
  private final Source source;
  private final int partBytes;
  private final int start;
  private final int end;

  /** The first restart marker at or behind the nominal start of each part, once it is known. */
  private final int[] restarts;

  /**
   * @param end position behind the picture's end mark
   * @param partBytes of a part: many against the few hundred that a wrong start costs
   */
  ScanParts(Layout layout, Source source, int end, int partBytes) {
    this.layout = layout;
    this.partBytes = partBytes;
    this.source = source;
    this.start = layout.dataStart();
    this.end = end - 2;
    this.restarts = new int[count() + 1];
  }

  int count() {
    return Math.max(1, (end - start + partBytes - 1) / partBytes);
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
    Window window = chunk.window;
    // One byte before, and one behind that may belong to a 0xff.
    int behind = nominal(part + 1) + Payload.SLACK_BYTES + 2;
    window.read(source, Math.max(start, nominal(part) - 1), Math.min(end + 2, behind));
    int from = cut(part, window);
    int to = cut(part + 1, window);
    int further = Math.min(end, to + Payload.SLACK_BYTES);
    payload.clear(further - from);
    append(window, payload, from, to);
    chunk.ownBits = payload.length() * 8;
    append(window, payload, to, further);
    payload.seal();
    chunk.firstBit[0] = 0;
    decoder.decode(chunk, payload, 0, chunk.ownBits);
  }

  private static void append(Window window, Payload payload, int from, int to) {
    if (window.appendTo(payload, from, to) < to) {
      throw new Doubt("a marker among the codes");
    }
  }

  /** Where a part begins if nothing is in the way, at most the end. */
  private int nominal(int part) {
    return (int) Math.min(end, start + (long) part * partBytes);
  }

  /** Where a part begins, never between 0xff and its zero. */
  private int cut(int part, Window window) {
    int at = nominal(part);
    return at < end && at > start && window.at(at - 1) == -1 ? at + 1 : at;
  }

  private void decodeIntervals(int part, Chunk chunk, BlockDecoder decoder) {
    Payload payload = chunk.payload;
    Window window = chunk.window;
    int from = part == 0 ? start : restart(part, window);
    int to = part + 1 >= count() ? end : restart(part + 1, window);
    window.read(source, from, to + 2);
    payload.clear(to - from);
    chunk.firstBit[0] = 0;
    if (part == 0) {
      chunk.firstMarker = 7; // The one before 0, in the turn of eight.
    }
    int at = from;
    while (at < to) {
      if (at > start) {
        int number = (window.at(at + 1) & 0xff) - RST0;
        if (chunk.firstMarker < 0) {
          chunk.firstMarker = number;
        } else if ((chunk.firstMarker + chunk.intervals) % 8 != number) {
          throw new Doubt("a restart marker out of its turn");
        }
        at += 2;
      }
      int begin = payload.length();
      int stop = window.appendTo(payload, at, to);
      if (stop < to && !isRestart(stop, window)) {
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

  /** The first restart marker at or behind the nominal start of a part, or the end. */
  private int restart(int part, Window window) {
    synchronized (restarts) {
      if (restarts[part] > 0) {
        return restarts[part];
      }
    }
    int at = nominal(part);
    while (at < end) {
      if (!window.has(at) || !window.has(at + 1)) {
        window.read(source, at, Math.min(end + 2, at + SEARCH_BYTES));
      }
      if (window.at(at) == -1 && isRestart(at, window)) {
        break;
      }
      at++;
    }
    synchronized (restarts) {
      for (int other = part; other < restarts.length && nominal(other) <= at; other++) {
        restarts[other] = at;
      }
    }
    return at;
  }

  private static boolean isRestart(int at, Window window) {
    int marker = window.at(at + 1) & 0xff;
    return marker >= RST0 && marker <= RST7;
  }
}

package org.scenespan.folder.jpeg;

/** Decodes the codes of a scan in their order; one thread at a time. */
final class ScanReader {
  private static final int RST0 = 0xd0;

  private final Layout layout;
  private final Source source;
  private final BlockDecoder decoder;
  private final int readBytes;

  /** Behind the codes of the picture. */
  private final int end;

  private final Window window = new Window();
  private final Payload payload = new Payload();

  /** What of the file comes next. */
  private int position;

  /** Whether a marker is next, or the end. */
  private boolean stopped;

  /** The next block's bit in the payload. */
  private int at;

  /** The bit from which on a block might have no room before the end of the payload. */
  private int enough;

  private int unitsLeft;
  private int restarts;

  /**
   * @param end position behind the picture's end mark
   * @param readBytes of the file that are read together
   */
  ScanReader(Layout layout, Source source, int end, int readBytes) {
    this.layout = layout;
    this.source = source;
    this.decoder = new BlockDecoder(layout);
    this.readBytes = readBytes;
    this.end = end - 2;
    this.position = layout.dataStart();
    this.unitsLeft = layout.restartInterval() > 0 ? layout.restartInterval() : Integer.MAX_VALUE;
    payload.clear();
    refill();
  }

  /**
   * Decodes the next units, all of one row.
   *
   * @throws Doubt if the codes are not those of a whole picture
   */
  void read(int units, Segment into) {
    into.clear();
    int perMcu = layout.blocksPerMcu();
    for (int unit = 0; unit < units; unit++) {
      if (unitsLeft == 0) {
        restart();
      }
      unitsLeft--;
      int batch = into.batchOf(unit);
      int column = into.columnOf(unit);
      for (int phase = 0; phase < perMcu; phase++) {
        if (at > enough) {
          refill();
        }
        at = decoder.block(payload.bytes(), at, phase, into.batches[batch + phase], column);
        if (at == BlockDecoder.BROKEN || at > payload.length() * 8) {
          throw new Doubt("bits that are no code");
        }
      }
    }
  }

  /** Reads on until a block has room, or all there is before the next marker. */
  private void refill() {
    payload.drop(at >>> 3);
    at &= 7;
    while (!stopped && payload.length() < Payload.SLACK_BYTES) {
      // One behind, for a 0xff never to be parted from its zero.
      look(Math.min(end, position + readBytes) + 1);
      int to = Math.min(end, window.end() - 1);
      if (to < end && window.at(to - 1) == -1) {
        to++;
      }
      payload.reserve(to - position);
      int next = window.appendTo(payload, position, to);
      stopped = next < to || next == end;
      position = next;
    }
    payload.seal();
    enough = stopped ? Integer.MAX_VALUE : (payload.length() - Payload.SLACK_BYTES) * 8;
  }

  /** Reads the file up to a position, unless the next two bytes are there already. */
  private void look(int to) {
    if (!(window.has(position) && window.has(position + 1))) {
      window.read(source, position, to);
    }
  }

  /** Goes on behind the next restart marker. */
  private void restart() {
    checkWhole();
    look(position + 2);
    if (window.at(position) != -1 || (window.at(position + 1) & 0xff) != RST0 + restarts % 8) {
      throw new Doubt("another marker than the restart that is due");
    }
    restarts++;
    position += 2;
    stopped = position == end;
    unitsLeft = layout.restartInterval();
    payload.clear();
    at = 0;
    decoder.restart();
    refill();
  }

  private void checkWhole() {
    if (!stopped) {
      refill();
    }
    int filling = payload.length() * 8 - at;
    if (!(stopped && filling >= 0 && filling < 8)) {
      throw new Doubt("codes behind the last block");
    }
  }

  /**
   * Checks that the codes end where the picture does: with less than a byte of filling.
   *
   * @throws Doubt if they do not
   */
  void finish() {
    checkWhole();
    if (position != end) {
      throw new Doubt("a marker among the codes");
    }
  }
}

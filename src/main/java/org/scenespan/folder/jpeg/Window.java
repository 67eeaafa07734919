package org.scenespan.folder.jpeg;

import java.io.IOException;
import java.io.UncheckedIOException;

/** The part of a file that is being looked at. Not for sharing between threads. */
final class Window {
  private byte[] bytes = new byte[0];
  private int from;
  private int to;

  /**
   * Reads another part of the file.
   *
   * @throws UncheckedIOException if it cannot be read
   */
  void read(Source source, int first, int end) {
    if (bytes.length < end - first) {
      bytes = new byte[end - first];
    }
    from = first;
    to = end;
    try {
      source.read(first, bytes, 0, end - first);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** The position behind the last byte. */
  int end() {
    return to;
  }

  boolean has(int position) {
    return position >= from && position < to;
  }

  /** The byte at a position in the file, −128 to 127. */
  byte at(int position) {
    return bytes[position - from];
  }

  /** Appends to a payload, see {@link Payload#append}; positions are those in the file. */
  int appendTo(Payload payload, int first, int end) {
    return payload.append(bytes, first - from, end - from) + from;
  }
}

package org.scenespan.trigger;

import java.util.Optional;

/**
 * Cuts a stream of bytes into messages, however the bytes come: at a terminator, or after a fixed
 * number of bytes. Holds one unfinished message of bounded length; a longer one is thrown away to
 * its end and told as such.
 */
final class LineBuffer {
  /** The longest reply line. SCPI error messages are at most 255 characters [memory]. */
  static final int MAX_LINE_BYTES = 1024;

  /** A line from the device, or the news that one was too long. */
  record Line(String text, boolean tooLong) {}

  private final char end;
  private final int fixedLength;
  private final boolean isText;
  private final StringBuilder pending = new StringBuilder();
  private boolean overflowed;
  private boolean skipping;

  LineBuffer(Profile.LineSettings line) {
    end = line.replyTerminator() == Profile.Terminator.CR ? '\r' : '\n';
    fixedLength = line.replyBytes();
    isText = line.form() == Profile.Form.TEXT;
  }

  /** Takes one byte; a line if it was the last of one that is not empty. */
  Optional<Line> take(byte value) {
    char character = (char) (value & 0xff);
    if (fixedLength > 0) {
      pending.append(character);
      return pending.length() < fixedLength ? Optional.empty() : whole();
    }
    if (character != end) {
      if (pending.length() < MAX_LINE_BYTES) {
        pending.append(character);
      } else {
        overflowed = true;
      }
      return Optional.empty();
    }
    return whole();
  }

  private Optional<Line> whole() {
    Line line = new Line(overflowed ? "" : part(), overflowed);
    boolean skipped = skipping;
    forget();
    return skipped || (line.text.isEmpty() && !line.tooLong) ? Optional.empty() : Optional.of(line);
  }

  /** Whether a line has begun and not ended. */
  boolean hasPart() {
    return pending.length() > 0 && !skipping;
  }

  /**
   * The line that has begun, as far as it came; of a text without the other half of a CR LF pair,
   * and without spaces around.
   */
  String part() {
    String raw = pending.toString();
    if (isText) {
      return raw.strip();
    }
    return raw.endsWith("\r") && end == '\n' && fixedLength == 0
        ? raw.substring(0, raw.length() - 1)
        : raw;
  }

  /**
   * Throws away the line that has begun and, when it comes, its rest. Where bytes are counted,
   * nothing marks a message's end: what comes next is taken to begin another.
   */
  void skipPart() {
    if (fixedLength > 0) {
      forget();
    } else {
      skipping = pending.length() > 0;
    }
  }

  /** Throws away the line that has begun; the next byte begins another. */
  void forget() {
    pending.setLength(0);
    overflowed = false;
    skipping = false;
  }
}

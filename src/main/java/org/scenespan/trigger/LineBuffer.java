package org.scenespan.trigger;

import java.util.Optional;

/**
 * Cuts a stream of bytes into lines, however the bytes come. Holds one unfinished line of bounded
 * length; a longer one is thrown away to its end and told as such.
 */
final class LineBuffer {
  /** The longest reply line. SCPI error messages are at most 255 characters [memory]. */
  static final int MAX_LINE_BYTES = 1024;

  /** A line from the device, or the news that one was too long. */
  record Line(String text, boolean tooLong) {}

  private final char end;
  private final StringBuilder pending = new StringBuilder();
  private boolean overflowed;
  private boolean skipping;

  LineBuffer(Profile.Terminator terminator) {
    end = terminator == Profile.Terminator.CR ? '\r' : '\n';
  }

  /** Takes one byte; a line if it was the last of one that is not empty. */
  Optional<Line> take(byte value) {
    char character = (char) (value & 0xff);
    if (character != end) {
      if (pending.length() < MAX_LINE_BYTES) {
        pending.append(character);
      } else {
        overflowed = true;
      }
      return Optional.empty();
    }
    Line line = new Line(overflowed ? "" : trimmed(), overflowed);
    boolean skipped = skipping;
    forget();
    return skipped || (line.text.isEmpty() && !line.tooLong) ? Optional.empty() : Optional.of(line);
  }

  /** Whether a line has begun and not ended. */
  boolean hasPart() {
    return pending.length() > 0 && !skipping;
  }

  /** The line that has begun, as far as it came. */
  String part() {
    return trimmed();
  }

  /** Throws away the line that has begun and, when it comes, its rest. */
  void skipPart() {
    skipping = pending.length() > 0;
  }

  /** Throws away the line that has begun; the next byte begins another. */
  void forget() {
    pending.setLength(0);
    overflowed = false;
    skipping = false;
  }

  /** Without the other half of a CR LF pair, and without spaces around. */
  private String trimmed() {
    return pending.toString().strip();
  }
}

package org.scenespan.rehearsal;

import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.Optional;
import java.util.function.Consumer;

/** Cuts what arrives into command lines, however the bytes come in. */
final class CommandLines {
  /** Bytes of a line without its end; a longer line is thrown away whole. */
  static final int LONGEST_LINE_BYTES = 256;

  private final byte[] line = new byte[LONGEST_LINE_BYTES];
  private int length;

  /**
   * @param perLine gets each line without its end, or nothing for one that was too long
   */
  void receive(byte[] bytes, Consumer<Optional<String>> perLine) {
    for (byte next : bytes) {
      if (next == '\n') {
        boolean whole = length <= LONGEST_LINE_BYTES;
        // Latin 1 keeps every byte apart, so that what is not ASCII stays wrong.
        perLine.accept(
            whole
                ? Optional.of(new String(Arrays.copyOf(line, length), StandardCharsets.ISO_8859_1))
                : Optional.empty());
        length = 0;
      } else if (length < LONGEST_LINE_BYTES) {
        line[length++] = next;
      } else {
        length = LONGEST_LINE_BYTES + 1;
      }
    }
  }
}

package org.scenespan.firmware;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import org.scenespan.trigger.SerialTriggerPort;

/** A line to a device and a line back, by hand over a real port. */
final class SpokenLines {
  /** A test that is stopped by its time-out would not end: a port's read knows no interrupt. */
  private static final long LONGEST_NANOS = 30_000_000_000L;

  private SpokenLines() {}

  static void send(SerialTriggerPort port, String text) throws IOException {
    port.write(text.getBytes(StandardCharsets.ISO_8859_1));
  }

  static String line(SerialTriggerPort port) {
    StringBuilder line = new StringBuilder();
    byte[] one = new byte[1];
    long begun = System.nanoTime();
    while (line.indexOf("\n") < 0) {
      int count = port.read(one);
      assertTrue(count >= 0, "the port is gone after \"" + line + "\"");
      boolean soon = System.nanoTime() - begun < LONGEST_NANOS;
      assertTrue(soon, "no whole line came, but \"" + line + "\"");
      if (count == 1) {
        line.append((char) one[0]);
      }
    }
    return line.toString().strip();
  }
}

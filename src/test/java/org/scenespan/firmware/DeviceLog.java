package org.scenespan.firmware;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;

/** What a device's program tells of its contacts and its line, on its standard output. */
final class DeviceLog {
  /** One line: a time in microseconds, and what happened. */
  record Told(long micros, String what) {}

  private DeviceLog() {}

  /** Reads until something happened, and gives what was told up to that. */
  static List<Told> await(Process device, String what) throws IOException {
    List<Told> log = new ArrayList<>();
    while (true) {
      String line = device.inputReader().readLine();
      assertTrue(line != null, "the device ended before \"" + what + "\": " + log);
      String[] parts = line.split(" ", 2);
      assertTrue(parts[0].matches("\\d+"), line);
      log.add(new Told(Long.parseLong(parts[0]), parts[1]));
      if (parts[1].equals(what)) {
        return log;
      }
    }
  }

  static List<String> words(List<Told> log) {
    return log.stream().map(Told::what).toList();
  }

  static Told last(List<Told> log) {
    return log.get(log.size() - 1);
  }

  /** The clock has 32 bits and may wrap between the two. */
  static long between(Told first, Told second) {
    return second.micros - first.micros & 0xffffffffL;
  }
}

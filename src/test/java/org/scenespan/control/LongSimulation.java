package org.scenespan.control;

import java.io.IOException;
import java.nio.file.Files;
import java.util.Map;
import java.util.TreeMap;
import java.util.logging.Level;
import java.util.logging.Logger;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Many seeds of {@link SimulationTest} in one process, for a long run by hand: first seed, number
 * of seeds, and for one that fails any third word, to see its journal. Tells how the sessions
 * ended.
 */
final class LongSimulation {
  private static final Pattern STOPPED = Pattern.compile("\"stopped\":\"([a-z-]+)\"");

  private LongSimulation() {}

  public static void main(String[] arguments) throws IOException {
    Logger.getLogger("").setLevel(Level.OFF);
    long first = Long.parseLong(arguments[0]);
    long count = Long.parseLong(arguments[1]);
    long begin = System.nanoTime();
    Map<String, Integer> endings = new TreeMap<>();
    for (long seed = first; seed < first + count; seed++) {
      String ending = "failed";
      RehearsedSession session = new RehearsedSession(seed);
      try {
        Matcher stopped = STOPPED.matcher(session.run());
        ending = stopped.find() ? stopped.group(1) : "open";
      } catch (IOException | RuntimeException | AssertionError failed) {
        System.out.println("seed " + seed + ": " + failed);
        if (arguments.length > 2) {
          failed.printStackTrace(System.out);
          Files.readAllLines(session.journal()).forEach(System.out::println);
        }
      }
      endings.merge(ending, 1, Integer::sum);
      if ((seed - first + 1) % 1000 == 0) {
        long seconds = (System.nanoTime() - begin) / 1_000_000_000;
        System.out.println((seed - first + 1) + " seeds, " + seconds + " s: " + endings);
      }
    }
    System.out.println(
        count + " seeds, " + (System.nanoTime() - begin) / 1_000_000 + " ms: " + endings);
  }
}

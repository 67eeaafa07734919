package org.scenespan.fuzz;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.SplittableRandom;

/** Lines, of a device or of a request's head: missing, twice, out of order, joined, of another. */
final class LinesShape implements Shape {
  private static final int MOST_REPEATS = 300;

  @Override
  public byte[] changed(byte[] bytes, SplittableRandom random, List<byte[]> seeds) {
    List<String> lines = lines(bytes);
    int at = random.nextInt(lines.size());
    String line = lines.get(at);
    switch (random.nextInt(7)) {
      case 0 -> lines.remove(at);
      case 1 -> lines.add(at, line);
      case 2 -> Collections.swap(lines, at, random.nextInt(lines.size()));
      case 3 -> lines.set(at, line + (at + 1 < lines.size() ? lines.remove(at + 1) : ""));
      case 4 -> lines.set(at, line.substring(0, random.nextInt(line.length() + 1)));
      case 5 -> {
        List<String> other = lines(seeds.get(random.nextInt(seeds.size())));
        lines.add(at, other.get(random.nextInt(other.size())));
      }
      default -> lines.addAll(at, Collections.nCopies(random.nextInt(MOST_REPEATS), line));
    }
    return String.join("\n", lines).getBytes(StandardCharsets.ISO_8859_1);
  }

  private static List<String> lines(byte[] bytes) {
    String text = new String(bytes, StandardCharsets.ISO_8859_1);
    return new ArrayList<>(Arrays.asList(text.split("\n", -1)));
  }
}

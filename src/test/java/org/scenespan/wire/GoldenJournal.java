package org.scenespan.wire;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;

/**
 * Writes the golden journal anew after its format has grown: every line is read and written back.
 * Run it with the file's path, then look at the difference; a new field's value is put in by hand.
 */
public final class GoldenJournal {
  private GoldenJournal() {}

  public static void main(String[] words) throws IOException, MalformedRecord {
    Path file = Path.of(words[0]);
    List<String> lines = new ArrayList<>();
    for (String line : Files.readAllLines(file)) {
      lines.add(EventJson.write(EventJson.read(line)));
    }
    Files.write(file, lines);
  }
}

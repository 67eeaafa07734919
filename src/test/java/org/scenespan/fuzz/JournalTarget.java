package org.scenespan.fuzz;

import com.google.common.jimfs.Configuration;
import com.google.common.jimfs.Jimfs;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.scenespan.journal.Journal;
import org.scenespan.journal.JournalReading;
import org.scenespan.wire.EventJson;
import org.scenespan.wire.MalformedRecord;

/** A journal on disk, read, folded and opened for more; and each line of it alone. */
final class JournalTarget implements Target {
  private final Path directory;

  JournalTarget() throws IOException {
    directory = Jimfs.newFileSystem(Configuration.unix()).getPath("/session");
    Files.createDirectory(directory);
  }

  @Override
  public List<byte[]> seeds() {
    try {
      Path journals = Path.of("src/test/resources/journals");
      return List.of(
          Files.readAllBytes(journals.resolve("format-1.jsonl")),
          Files.readAllBytes(journals.resolve("bracket-sample.jsonl")),
          Files.readAllBytes(journals.resolve("hand-1.jsonl")),
          Files.readAllBytes(journals.resolve("lapse-1.jsonl")),
          Files.readAllBytes(journals.resolve("tether-1.jsonl")));
    } catch (IOException e) {
      throw new IllegalStateException(e);
    }
  }

  @Override
  public List<String> words() {
    return List.of(
        "\n",
        "{\"seq\":2,",
        "\"type\":\"shot-lost\"",
        "\"shot\":9,",
        "[",
        "\"shot\":-1,",
        "1970-01-01T00:00:00Z",
        "+1000000000-01-01T00:00:00Z",
        "\u00ff");
  }

  @Override
  public Shape shape() {
    return new JsonShape(true);
  }

  @Override
  public void feed(byte[] input) throws IOException {
    Files.write(directory.resolve(Journal.FILE_NAME), input);
    for (String line : new String(input, StandardCharsets.UTF_8).split("\n", -1)) {
      try {
        EventJson.write(EventJson.read(line));
      } catch (MalformedRecord told) {
        continue;
      }
    }
    try {
      JournalReading.of(directory);
      Journal.reopen(directory).close();
    } catch (IOException told) {
      if (told.getMessage().lines().count() != 1) {
        throw new IOException("not one line: " + told.getMessage());
      }
    }
  }
}

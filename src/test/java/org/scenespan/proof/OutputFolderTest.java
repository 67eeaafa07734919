package org.scenespan.proof;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.scenespan.light.Share;

class OutputFolderTest {
  private static final List<String> NAMES = List.of("a.txt");

  @TempDir private Path folder;

  private void write(String text) throws IOException {
    try (OutputFolder output = OutputFolder.open(folder, NAMES)) {
      try (OutputStream out = output.create("a.txt")) {
        out.write(text.getBytes(StandardCharsets.US_ASCII));
      }
      ProofResult result =
          new ProofResult(
              folder,
              List.of(),
              List.of(),
              1,
              1,
              10,
              new Share(0),
              new Share(0),
              new Share(0),
              Map.of(),
              1,
              1,
              "raw data");
      output.publish(result.list(output.digests()));
    }
  }

  @Test
  void replacesItsOwnFiles() throws IOException {
    write("one");
    write("two");
    assertEquals("two", Files.readString(folder.resolve("a.txt")));
  }

  @Test
  void leavesOthersFilesAlone() throws IOException {
    Files.writeString(folder.resolve("a.txt"), "mine");
    IOException refused = assertThrows(IOException.class, () -> write("one"));
    assertTrue(refused.getMessage().contains("a.txt"), refused.getMessage());
    assertEquals("mine", Files.readString(folder.resolve("a.txt")));
  }

  @Test
  void leavesItsOwnFileAloneOnceSomebodyChangedIt() throws IOException {
    write("one");
    Files.writeString(folder.resolve("a.txt"), "retouched");
    assertThrows(IOException.class, () -> write("two"));
    assertEquals("retouched", Files.readString(folder.resolve("a.txt")));
  }

  @Test
  void leavesAForeignListAlone() throws IOException {
    for (String foreign : List.of("{}", "no JSON", "{\"format\":\"other\"}")) {
      Files.writeString(folder.resolve(OutputFolder.LIST), foreign);
      assertThrows(IOException.class, () -> write("one"));
      assertEquals(foreign, Files.readString(folder.resolve(OutputFolder.LIST)));
    }
  }

  @Test
  void leavesNothingBehindOnFailure() throws IOException {
    try (OutputFolder output = OutputFolder.open(folder, NAMES);
        OutputStream out = output.create("a.txt")) {
      out.write(1);
    }
    assertFalse(Files.exists(folder.resolve("a.txt")));
    try (Stream<Path> files = Files.list(folder)) {
      assertEquals(0, files.count());
    }
  }
}

package org.scenespan.rehearsal;

import static org.junit.jupiter.api.Assertions.assertEquals;

import com.google.common.jimfs.Configuration;
import com.google.common.jimfs.Jimfs;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;

/** The numbers of a card's files, past the last one. */
class CameraCardTest {
  private final Path folder =
      Jimfs.newFileSystem(Configuration.unix()).getPath("/").resolve("card");

  private String next(CameraCard card) throws IOException {
    Path file = card.jpeg(card.takeNumber());
    Files.createFile(file);
    return file.getFileName().toString();
  }

  @Test
  void afterTheLastNumberComesTheFirstThatIsFree() throws IOException {
    Files.createDirectory(folder);
    CameraCard card = new CameraCard(folder, RigSettings.Placing.GROWING, 9998);
    assertEquals("SCN_9998.JPG", next(card));
    assertEquals("SCN_9999.JPG", next(card));
    assertEquals("SCN_0001.JPG", next(card));
  }

  @Test
  void whereEveryNumberIsTakenOtherCharactersGoBeforeThem() throws IOException {
    Files.createDirectory(folder);
    CameraCard card = new CameraCard(folder, RigSettings.Placing.GROWING, 1);
    for (int number = 1; number < CameraCard.LAST_NUMBER; number++) {
      next(card);
    }
    assertEquals("SCN_9999.JPG", next(card));
    assertEquals("SC1_0001.JPG", next(card));
    assertEquals("SC1_0002.JPG", next(card));
  }
}

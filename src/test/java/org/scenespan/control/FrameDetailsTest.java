package org.scenespan.control;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.awt.image.BufferedImage;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.scenespan.folder.PreviewStore;
import org.scenespan.frame.Patch;

class FrameDetailsTest {
  private static final Patch PART = new Patch(0.25, 0.25, 0.5, 0.5);

  @TempDir private Path directory;
  private FrameDetails details;

  private void picture(Path file) throws IOException {
    BufferedImage image = new BufferedImage(200, 100, BufferedImage.TYPE_INT_RGB);
    ImageIO.write(image, "jpeg", file.toFile());
  }

  @BeforeEach
  void layOut() throws IOException {
    Path previews = Files.createDirectory(directory.resolve("previews"));
    Path folder = Files.createDirectory(directory.resolve("hot"));
    for (String name : new String[] {"F.JPG", "old.JPG"}) {
      picture(folder.resolve(name));
    }
    picture(directory.resolve("outside.JPG"));
    Files.createSymbolicLink(folder.resolve("link.JPG"), directory.resolve("outside.JPG"));
    for (String shown : new String[] {"F.JPG", "link.JPG", "../outside.JPG", "gone.JPG"}) {
      picture(previews.resolve(PreviewStore.previewName(shown)));
    }
    details = new FrameDetails(previews, folder);
  }

  @Test
  void cutsAFrameOfTheSessionAndKeepsWhatItCut() {
    byte[] cut = details.part("F.JPG", PART).orElseThrow();
    assertTrue(cut.length > 100);
    assertSame(cut, details.part("F.JPG", PART).orElseThrow());
  }

  @Test
  void showsNothingElse() {
    for (String name :
        new String[] {"old.JPG", "link.JPG", "../outside.JPG", "gone.JPG", "", ".", ".."}) {
      assertEquals(Optional.empty(), details.part(name, PART), name);
    }
  }
}

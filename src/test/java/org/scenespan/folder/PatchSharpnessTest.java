package org.scenespan.folder;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.awt.image.BufferedImage;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.scenespan.frame.Deviation;
import org.scenespan.frame.Patch;
import org.scenespan.frame.SharpnessGrid;

/** A target before a wall, in JPEG files: the focus may lie on the one or on the other. */
class PatchSharpnessTest {
  private static final int WIDTH = 640;
  private static final int HEIGHT = 480;
  private static final Patch TARGET = new Patch(0.375, 0.375, 0.25, 0.25);

  @TempDir Path folder;

  /**
   * @param target contrast of the target's checks, codes: blur takes of it
   * @param wall contrast of the wall's
   */
  private static byte[] picture(int target, int wall) {
    BufferedImage image = new BufferedImage(WIDTH, HEIGHT, BufferedImage.TYPE_INT_RGB);
    Random random = new Random(1);
    for (int y = 0; y < HEIGHT; y++) {
      for (int x = 0; x < WIDTH; x++) {
        boolean in = x >= 240 && x < 400 && y >= 180 && y < 300;
        int contrast = in ? target : wall;
        int code = 118 + ((x / 2 + y / 2) % 2 == 0 ? contrast : -contrast) + random.nextInt(3);
        image.setRGB(x, y, code * 0x010101);
      }
    }
    return Pictures.encoded(image);
  }

  private Deviation deviation(byte[] reference, byte[] now) throws Exception {
    ReferenceDesk desk = new ReferenceDesk();
    FrameReader reader = new FrameReader();
    PreviewStore previews = new PreviewStore(folder.resolve("session"));
    reader.read(Files.write(folder.resolve("REF.JPG"), reference), previews, desk);
    desk.hold("REF.JPG", Optional.of(TARGET));
    FrameReader.Held held =
        reader.read(Files.write(folder.resolve("NOW.JPG"), now), previews, desk);
    assertEquals(SharpnessGrid.NONE, held.reading().measure().regions(), "records stay small");
    return held.deviation().orElseThrow();
  }

  @ParameterizedTest
  @CsvSource({
    "40, 20, 40, 20, 1", // as it was
    "40, 20, 28, 20, 0.5", // the target is soft, the wall is not
    "40, 20, 28, 40, 0.5", // and the focus is on the wall: the whole is sharper than before
    "40, 20, 40, 10, 1", // the wall is soft, which is no matter
  })
  void isThatOfTheTarget(
      int targetBefore, int wallBefore, int targetNow, int wallNow, double wanted)
      throws Exception {
    Deviation deviation = deviation(picture(targetBefore, wallBefore), picture(targetNow, wallNow));
    assertEquals(wanted, deviation.patchSharpness().orElseThrow(), 0.06);
  }

  @Test
  void aPlainCardTellsNothingOfFocus() throws Exception {
    Deviation deviation = deviation(picture(0, 20), picture(0, 20));
    assertTrue(deviation.patchSeen());
    assertTrue(deviation.patchSharpness().isEmpty());
  }

  @Test
  void oneReadingAloneTellsOfItsParts() throws Exception {
    Path file = Files.write(folder.resolve("A.JPG"), picture(40, 20));
    SharpnessGrid regions = new FrameReader().read(file).measure().regions();
    assertEquals(16, regions.columns());
    assertTrue(regions.sharpness(8, 8) > 2 * regions.sharpness(2, 2));
  }
}

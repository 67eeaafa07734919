package org.scenespan.frame;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.scenespan.light.Share;

class RegionTest {
  private static final int WIDTH = 80;
  private static final int HEIGHT = 40;

  /** The left half at one level, the right half at another. */
  private static BlockGrid halves(double left, double right) {
    float[] cells = new float[WIDTH * HEIGHT];
    for (int i = 0; i < cells.length; i++) {
      cells[i] = (float) (i % WIDTH < WIDTH / 2 ? left : right);
    }
    return BlockGrid.of(cells, WIDTH, HEIGHT, 1);
  }

  /** The upper half of an upright picture, of a file that is turned in each of Exif's ways. */
  @ParameterizedTest
  @CsvSource({"6, 0.25", "8, 0.0625", "5, 0.25", "7, 0.0625"})
  void findsTheSkyInATurnedFile(int orientation, double sky) {
    BlockGrid grid = halves(0.25, 0.0625);
    double level =
        grid.trimmedMean(Region.SKY.patch().asFiled(orientation), Region.TRIM)
            .orElseThrow()
            .value();
    assertEquals(Math.log(sky) / Math.log(2), level, 1e-6);
  }

  @Test
  void leavesOutTheDarkestAndTheBrightest() {
    float[] cells = new float[WIDTH * HEIGHT];
    Arrays.fill(cells, 0.125f);
    // A disc and a black corner, each less than a twentieth of the picture.
    for (int y = 0; y < 8; y++) {
      for (int x = 0; x < 8; x++) {
        cells[y * WIDTH + x] = Float.NaN;
        cells[(HEIGHT - 1 - y) * WIDTH + x] = 0;
      }
    }
    BlockGrid grid = BlockGrid.of(cells, WIDTH, HEIGHT, 1);
    assertEquals(
        -3, grid.trimmedMean(Region.WHOLE.patch(), Region.TRIM).orElseThrow().value(), 1e-6);
    assertTrue(grid.trimmedMean(Region.WHOLE.patch(), Share.NONE).orElseThrow().value() > -3);
  }

  @Test
  void blackIsNoLevel() {
    assertTrue(halves(0, 0).trimmedMean(Region.WHOLE.patch(), Region.TRIM).isEmpty());
  }

  @Test
  void parsesWhatItWrites() {
    for (String text : new String[] {"whole", "sky", "land", "0,0.5,1,0.4"}) {
      Region region = Region.parse(text);
      assertEquals(text, region.label());
      assertEquals(region, Region.parse(region.label()));
    }
  }

  @ParameterizedTest
  @ValueSource(strings = {"", "sea", "0,0,1", "0,0,2,1", "a,b,c,d", "0,0,0,0", "NaN,0,1,1"})
  void refusesWhatIsNone(String text) {
    assertThrows(IllegalArgumentException.class, () -> Region.parse(text));
  }
}

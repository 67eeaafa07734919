package org.scenespan.frame;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** A studio of our own: a grey card before a wall of blotches, in frames made by arithmetic. */
class ReferenceTest {
  private static final int WIDTH = 960;
  private static final int HEIGHT = 640;

  /** The card in the reference frame; 18 % grey at code 118 (ISO 12232, 0.18 in sRGB). */
  private static final Patch CARD = new Patch(0.4, 0.4, 0.1, 0.12);

  private static final double GREY = 0.18;

  /** A frame of the studio. */
  private static final class Studio {
    private final double[][] light = new double[3][WIDTH * HEIGHT];
    private final Random random = new Random(7);

    Studio(int cardRight, int cardDown) {
      Random blotches = new Random(3);
      double[][] wall = new double[24][16];
      for (double[] column : wall) {
        for (int i = 0; i < column.length; i++) {
          column[i] = 0.03 + 0.3 * blotches.nextDouble();
        }
      }
      int left = (int) (CARD.left() * WIDTH) + cardRight;
      int top = (int) (CARD.top() * HEIGHT) + cardDown;
      for (int y = 0; y < HEIGHT; y++) {
        for (int x = 0; x < WIDTH; x++) {
          boolean card =
              x >= left
                  && x < left + CARD.width() * WIDTH
                  && y >= top
                  && y < top + CARD.height() * HEIGHT;
          double value = card ? GREY : wall[x / 40][y / 40];
          for (double[] channel : light) {
            channel[y * WIDTH + x] = value;
          }
        }
      }
    }

    Studio by(double red, double green, double blue) {
      double[] factors = {red, green, blue};
      for (int channel = 0; channel < 3; channel++) {
        for (int i = 0; i < light[channel].length; i++) {
          light[channel][i] *= factors[channel];
        }
      }
      return this;
    }

    Studio darkFrom(int line, double factor) {
      for (double[] channel : light) {
        for (int i = line * WIDTH; i < channel.length; i++) {
          channel[i] *= factor;
        }
      }
      return this;
    }

    ColourGrid seen() {
      int[] rgb = new int[WIDTH * HEIGHT];
      for (int i = 0; i < rgb.length; i++) {
        for (double[] channel : light) {
          double noisy = channel[i] * (1 + 0.02 * random.nextGaussian());
          double bounded = Math.max(0, Math.min(1, noisy));
          rgb[i] = rgb[i] << 8 | (int) Math.round(255 * ToneResponse.linearToSrgb(bounded));
        }
      }
      return ColourGrid.of(rgb, WIDTH, HEIGHT);
    }
  }

  private static Deviation against(Optional<Patch> patch, ColourGrid now) {
    return new Reference("REF.JPG", new Studio(0, 0).seen(), patch).against(now).orElseThrow();
  }

  @ParameterizedTest
  @CsvSource({"0", "0.1", "-0.1", "0.5", "-1", "-2"})
  void measuresExposureToAHundredthOfAStop(double stops) {
    double factor = Math.pow(2, stops);
    Deviation deviation =
        against(Optional.of(CARD), new Studio(0, 0).by(factor, factor, factor).seen());
    assertEquals(stops, deviation.exposure().value(), 0.01);
    assertEquals(0, deviation.redToGreen(), 0.005);
    assertEquals(0, deviation.blueToGreen(), 0.005);
    assertTrue(deviation.patchSeen());
    assertTrue(deviation.band().isEmpty());
  }

  @ParameterizedTest
  @CsvSource({"0.02,0", "0.04,-0.03", "-0.05,0.05"})
  void measuresColourToHalfAPercent(double red, double blue) {
    Deviation deviation =
        against(Optional.of(CARD), new Studio(0, 0).by(1 + red, 1, 1 + blue).seen());
    assertEquals(red, deviation.redToGreen(), 0.005);
    assertEquals(blue, deviation.blueToGreen(), 0.005);
  }

  @ParameterizedTest
  @CsvSource({"0,0", "30,0", "-42,24", "60,-36"})
  void findsACardThatMoved(int right, int down) {
    Deviation deviation =
        against(Optional.of(CARD), new Studio(right, down).by(1.2, 1.2, 1.2).seen());
    assertTrue(deviation.patchSeen());
    double block = 1.0 / 160;
    assertEquals(CARD.left() + (double) right / WIDTH, deviation.patch().get().left(), block);
    assertEquals(CARD.top() + (double) down / HEIGHT, deviation.patch().get().top(), 1.5 * block);
    assertEquals(Math.log(1.2) / Math.log(2), deviation.exposure().value(), 0.02);
  }

  @Test
  void saysThatACardIsGone() {
    Studio covered = new Studio(400, 200);
    assertFalse(against(Optional.of(CARD), covered.seen()).patchSeen());
  }

  @Test
  void seesABandThatTheFlashDidNotReach() {
    Deviation deviation = against(Optional.empty(), new Studio(0, 0).darkFrom(400, 0.2).seen());
    Deviation.Band band = deviation.band().orElseThrow();
    assertEquals(Deviation.Edge.BOTTOM, band.edge());
    assertEquals(240.0 / 640, band.part().value(), 0.03);
    assertEquals(-Math.log(0.2) / Math.log(2), band.drop().value(), 0.1);
  }

  @Test
  void tellsAMisfireByTheWholeFrame() {
    Deviation deviation = against(Optional.empty(), new Studio(0, 0).by(0.3, 0.3, 0.3).seen());
    assertEquals(Math.log(0.3) / Math.log(2), deviation.whole().value(), 0.02);
    assertTrue(deviation.band().isEmpty());
  }

  @Test
  void anotherShapeTellsNothing() {
    Reference reference = new Reference("REF.JPG", new Studio(0, 0).seen(), Optional.empty());
    ColourGrid tall = ColourGrid.of(new int[HEIGHT * WIDTH], HEIGHT, WIDTH);
    assertEquals(Optional.empty(), reference.against(tall));
  }
}

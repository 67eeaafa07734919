package org.scenespan.rehearsal;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import java.util.concurrent.ForkJoinPool;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.scenespan.frame.NoiseModel;
import org.scenespan.frame.Radiance;
import org.scenespan.light.Aperture;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;
import org.scenespan.light.Stops;

class SensorTest {
  private static final Sensor SENSOR = new Sensor(NoiseModel.TYPICAL, 42);
  private static final Exposure EV_13 =
      new Exposure(Shutter.parse("1/125"), Aperture.parse("f/8"), Iso.parse("100"));

  /** A grey card of 200 by 200 pixels whose scene EV this is. */
  private static Scene card(double ev) {
    float[][] rows = new float[200][600];
    for (float[] row : rows) {
      Arrays.fill(row, 1);
    }
    return Scene.of("card", new Radiance(200, rows), new Ev(ev));
  }

  private static double[] meanAndDeviation(SensorFrame frame) {
    double sum = 0;
    double squares = 0;
    for (short code : frame.codes()) {
      sum += code;
      squares += (double) code * code;
    }
    double mean = sum / frame.codes().length;
    return new double[] {mean, Math.sqrt(squares / frame.codes().length - mean * mean)};
  }

  @Test
  void levelsAreThoseOfFourteenBits() {
    assertEquals(512, SENSOR.black());
    assertEquals(16_383, SENSOR.white());
  }

  /**
   * Electrons: full well · 2^(stops − 2.977) at stops above the exposure's EV; the deviation is √(S
   * + σ² + g²/12). Mean within five of its own deviations, deviation within 2 % (its own is 0.2 %
   * for 120 000 samples).
   */
  @ParameterizedTest
  @CsvSource({
    "0, 100",
    "2.9, 100",
    "2, 100",
    "-2, 100",
    "-4, 100",
    "-7, 100",
    "-9, 100",
    "-12, 100",
    "0, 1600",
    "-3, 1600",
    "-6, 25600"
  })
  void meanAndNoiseAreTheModels(double stops, double iso) {
    Exposure exposure = EV_13.withIso(Iso.ofNominal(iso));
    Scene card = card(exposure.ev().value() + stops);
    double saturation = NoiseModel.TYPICAL.saturation(exposure.iso());
    double electrons = saturation * Math.pow(2, stops - 2.977);
    double perCode = saturation / (16_383 - 512);
    double floor = Math.sqrt(9 + perCode * perCode / 12);
    double deviation = Math.sqrt(electrons + floor * floor);

    double[] got = meanAndDeviation(SENSOR.expose(card, exposure, 1));
    double mean = (got[0] - 512) * perCode;
    assertEquals(electrons, mean, 5 * deviation / Math.sqrt(120_000), "mean");
    assertEquals(deviation, got[1] * perCode, 0.02 * deviation, "noise");
    double snr = NoiseModel.TYPICAL.snr(electrons, exposure.iso());
    assertEquals(snr, mean / (got[1] * perCode), 0.02 * snr + 0.02, "signal-to-noise");
  }

  @Test
  void midGreyIsSixThousandElectronsOrSo() {
    // 50 000 · 2^−2.977 = 6350.5 [computed].
    double perUnit = SENSOR.electronsPerUnit(card(EV_13.ev().value()), EV_13);
    assertEquals(6350.5, perUnit, 0.5);
  }

  @Test
  void signalToNoiseOfTenStandsWhereTheGoldenValueSays() {
    // 108.971 electrons at 50 000 full well, 3 read noise, 14 bits [computed, the noise model].
    double stops = Stops.ofRatio(108.971 / 50_000).value() + 2.977;
    double[] got = meanAndDeviation(SENSOR.expose(card(EV_13.ev().value() + stops), EV_13, 3));
    assertEquals(10, (got[0] - 512) / got[1], 0.1);
  }

  @Test
  void beyondSaturationEveryCodeIsWhite() {
    for (short code : SENSOR.expose(card(EV_13.ev().value() + 3.1), EV_13, 1).codes()) {
      assertEquals(16_383, code);
    }
    for (short code : SENSOR.expose(card(EV_13.ev().value() + 40), EV_13, 1).codes()) {
      assertEquals(16_383, code);
    }
  }

  @Test
  void atSaturationHalfThePixelsClip() {
    int white = 0;
    short[] codes = SENSOR.expose(card(EV_13.ev().value() + 2.977), EV_13, 1).codes();
    for (short code : codes) {
      white += code == 16_383 ? 1 : 0;
    }
    assertEquals(0.5, (double) white / codes.length, 5 * 0.5 / Math.sqrt(codes.length) + 0.002);
  }

  @Test
  void seedAndFrameNumberRepeatBitForBit() {
    Scene card = card(13);
    short[] one = SENSOR.expose(card, EV_13, 5).codes();
    assertArrayEquals(one, new Sensor(NoiseModel.TYPICAL, 42).expose(card, EV_13, 5).codes());
    assertFalse(Arrays.equals(one, SENSOR.expose(card, EV_13, 6).codes()));
    assertFalse(
        Arrays.equals(one, new Sensor(NoiseModel.TYPICAL, 43).expose(card, EV_13, 5).codes()));
  }

  @Test
  void threadsDoNotMatter() throws Exception {
    Scene card = card(13);
    ForkJoinPool one = new ForkJoinPool(1);
    ForkJoinPool many = new ForkJoinPool(7);
    try {
      assertArrayEquals(
          one.submit(() -> SENSOR.expose(card, EV_13, 5).codes()).get(),
          many.submit(() -> SENSOR.expose(card, EV_13, 5).codes()).get());
    } finally {
      one.shutdown();
      many.shutdown();
    }
  }

  @Test
  void rowsAndChannelsAreIndependent() {
    SensorFrame frame = SENSOR.expose(card(10), EV_13, 1);
    double mean = meanAndDeviation(frame)[0];
    double rows = 0;
    double channels = 0;
    double all = 0;
    for (int y = 1; y < 200; y++) {
      for (int x = 0; x < 200; x++) {
        double here = frame.code(x, y, SensorFrame.GREEN) - mean;
        all += here * here;
        rows += here * (frame.code(x, y - 1, SensorFrame.GREEN) - mean);
        channels += here * (frame.code(x, y, SensorFrame.RED) - mean);
      }
    }
    // Correlation of 39 800 pairs has a deviation of 1/√39 800 = 0.005.
    assertTrue(Math.abs(rows / all) < 0.025, "rows " + rows / all);
    assertTrue(Math.abs(channels / all) < 0.025, "channels " + channels / all);
  }
}

package org.scenespan.frame;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.scenespan.light.Aperture;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;

/** The model of Hasinoff, Durand &amp; Freeman, CVPR 2010; golden values [computed] from it. */
class NoiseModelTest {
  private static final Iso BASE = Iso.EV_BASE;

  @ParameterizedTest
  @CsvSource({
    "50000, 3, 14, 10, 8.768",
    "50000, 3, 14, 40, 4.88",
    "50000, 3, 14, 1, 13.66",
    "30000, 2.5, 14, 10, 8.07",
    "12000, 2, 12, 10, 6.77",
    "60000, 20, 14, 10, 7.80"
  })
  void reach(double fullWell, double readNoise, int bits, double snr, double stops) {
    NoiseModel model = new NoiseModel(fullWell, readNoise, bits, BASE);
    assertEquals(stops, model.width(snr, BASE).value(), 0.0055);
  }

  @Test
  void leastSignal() {
    assertEquals(108.971, NoiseModel.TYPICAL.leastSignal(10, BASE), 0.0005);
  }

  @ParameterizedTest
  @CsvSource({"1", "3", "10", "40", "100"})
  void theLeastSignalHasTheRatio(double snr) {
    for (double iso = 100; iso <= 6400; iso *= 2) {
      NoiseModel model = NoiseModel.TYPICAL;
      double electrons = model.leastSignal(snr, new Iso(iso));
      assertEquals(snr, model.snr(electrons, new Iso(iso)), snr * 1e-9);
    }
  }

  /** High ISO lowers S_min(10) by 0.14 stop at most and costs reach stop for stop [computed]. */
  @Test
  void highIsoHardlyHelpsTheShadows() {
    double base = NoiseModel.TYPICAL.leastSignal(10, BASE);
    double high = NoiseModel.TYPICAL.leastSignal(10, new Iso(6400));
    double gained = Math.log(base / high) / Math.log(2);
    assertTrue(gained >= 0 && gained <= 0.14, "gained " + gained);
    double lost =
        NoiseModel.TYPICAL.width(10, BASE).value()
            - NoiseModel.TYPICAL.width(10, new Iso(6400)).value();
    assertEquals(6 - gained, lost, 1e-9);
  }

  /** Mid grey 2.977 stops below saturation (ISO 12232: 18 / √2 = 12.7 %). */
  @Test
  void theReachOfAnExposure() {
    Exposure exposure = new Exposure(new Shutter(1 / 128.0), new Aperture(8), BASE);
    Reach reach = NoiseModel.TYPICAL.reach(exposure, 10);
    double top = 13 + 2.977 + Math.log(0.95) / Math.log(2);
    assertEquals(top, reach.high().value(), 1e-9);
    assertEquals(top - 8.768, reach.low().value(), 0.0055);
  }

  @Test
  void refusesARatioBeyondSaturation() {
    Exposure exposure = new Exposure(new Shutter(1), new Aperture(8), BASE);
    assertThrows(IllegalArgumentException.class, () -> NoiseModel.TYPICAL.reach(exposure, 1000));
    assertThrows(
        IllegalArgumentException.class, () -> NoiseModel.TYPICAL.leastSignal(Double.NaN, BASE));
  }

  @ParameterizedTest
  @CsvSource({"0, 3, 14", "NaN, 3, 14", "100, 100, 14", "100, NaN, 14", "100, 1, 7", "100, 1, 17"})
  void refusesASensorThatIsNone(double fullWell, double readNoise, int bits) {
    assertThrows(
        IllegalArgumentException.class, () -> new NoiseModel(fullWell, readNoise, bits, BASE));
  }
}

package org.scenespan.plan;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.scenespan.frame.CameraProfile;
import org.scenespan.frame.NoiseModel;
import org.scenespan.frame.ToneResponse;
import org.scenespan.light.Iso;
import org.scenespan.light.Stops;

class JpegMarginTest {
  private static CameraProfile.Channel channel(double residual, Double headroom) {
    return new CameraProfile.Channel(
        ToneResponse.srgb(8),
        residual,
        100,
        2,
        250,
        Optional.ofNullable(headroom).map(stops -> new CameraProfile.Headroom(stops, 0.05, 100)));
  }

  /** The most that raw files hold more than a JPEG [practice]: a stop. */
  @Test
  void isAStopWithoutAMeasurement() {
    assertEquals(1, JpegMargin.UNMEASURED.stops().value());
    assertTrue(JpegMargin.UNMEASURED.why().contains("1.0 stop of margin"));
  }

  /** The channel with the most headroom, its spread of 0.05, and the worst residual. */
  @ParameterizedTest
  @CsvSource({
    "0.7, 0.4, 0.6, 0.77",
    "0, 0, 0, 0.07",
    "0.2, 1.3, 0.2, 1.37",
    "-0.3, -0.2, -0.1, 0.02"
  })
  void isWhatWasMeasured(double red, double green, double blue, double margin) {
    CameraProfile camera =
        new CameraProfile(
            "Test camera",
            9,
            8,
            List.of(channel(0.01, red), channel(0.02, green), channel(0, blue)));
    assertEquals(margin, JpegMargin.of(camera).stops().value(), 1e-9);
    assertTrue(JpegMargin.of(camera).why().contains("Test camera"));
  }

  /** A response alone says nothing of the raw file's clipping. */
  @Test
  void keepsTheStopWhereNoRawPairsWereGiven() {
    CameraProfile camera =
        new CameraProfile(
            "Test camera", 9, 8, List.of(channel(0.02, 0.7), channel(0.02, null), channel(0, 0.7)));
    assertEquals(1.02, JpegMargin.of(camera).stops().value(), 1e-9);
    assertTrue(JpegMargin.of(camera).why().contains("raw pairs"));
  }

  /** A margin of a stop narrows the reach by a stop, within what quantisation adds. */
  @Test
  void narrowsTheReachByAsMuch() {
    NoiseModel jpeg = JpegMargin.UNMEASURED.of(NoiseModel.TYPICAL);
    double whole = NoiseModel.TYPICAL.width(10, Iso.EV_BASE).value();
    assertEquals(whole - 1, jpeg.width(10, Iso.EV_BASE).value(), 0.01);
  }

  @ParameterizedTest
  @ValueSource(doubles = {-0.1, 8.1})
  void refusesWhatMakesNoSense(double stops) {
    assertThrows(IllegalArgumentException.class, () -> new JpegMargin(new Stops(stops), "why"));
  }
}

package org.scenespan.plan.ramp;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** What a frame that is off the foretold light is taken for, a frame every five seconds. */
class CloudOddsTest {
  private static final double INTERVAL = 5;

  /** A normal law of 0.08 stop, as dense as a filter that has settled foretells. */
  private static double density(double off) {
    return Math.exp(-off * off / (2 * 0.0064)) / Math.sqrt(2 * Math.PI * 0.0064);
  }

  private static CloudOdds clear() {
    CloudOdds odds = CloudOdds.UNKNOWN;
    for (int i = 0; i < 20; i++) {
      odds = next(odds, 0);
    }
    return odds;
  }

  private static CloudOdds next(CloudOdds odds, double off) {
    return odds.open().after(CloudOdds.Passing.of(INTERVAL)).given(off, density(off));
  }

  @Test
  void framesAsForetoldAreBelieved() {
    assertTrue(clear().slow() > 0.99);
  }

  @ParameterizedTest
  @ValueSource(doubles = {-0.6, -1.5, -2.3})
  void aCloudIsNotBelievedWhileItLasts(double depth) {
    CloudOdds odds = next(clear(), depth / 2);
    for (int i = 0; i < 30; i++) {
      odds = next(odds, depth);
      assertTrue(odds.slow() < 0.1, i + " frames in it: " + odds);
    }
    odds = next(next(odds, depth / 2), 0);
    assertTrue(next(odds, 0).slow() > 0.9, "ten seconds behind it: " + odds);
  }

  /**
   * Down a quarter of a stop, and there it stays: too shallow for a shade, too long for an edge.
   */
  @Test
  void whatGoesDownALittleAndStaysIsLight() {
    CloudOdds odds = clear();
    int frames = 0;
    while (odds.slow() < 0.5 || frames == 0) {
      odds = next(odds, -0.25);
      frames++;
      assertTrue(frames <= 12, "for a minute: " + odds);
    }
  }

  @Test
  void lightningIsNotBelievedAndSoonForgotten() {
    CloudOdds flash = next(clear(), 4);
    assertTrue(flash.slow() < 0.01, flash.toString());
    assertTrue(next(next(flash, 0), 0).slow() > 0.9);
  }

  @Test
  void oddsAreWholeAfterAnyTime() {
    CloudOdds odds = clear().open();
    for (double seconds : new double[] {0.5, 30, 600, 86_400}) {
      CloudOdds later = odds.after(CloudOdds.Passing.of(seconds));
      assertEquals(1, later.slow() + later.edge() + later.shade(), 1e-9);
    }
    CloudOdds settled = odds.after(CloudOdds.Passing.of(86_400));
    assertEquals(200.0 / (200 + 2 * 12 + 90), settled.slow(), 0.02, "as long as gaps last");
  }
}

package org.scenespan.plan.ramp;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Instant;
import java.util.Optional;
import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import java.util.function.IntToDoubleFunction;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.scenespan.light.Ev;
import org.scenespan.light.Share;
import org.scenespan.light.Stops;
import org.scenespan.rehearsal.BrokenCloud;
import org.scenespan.sky.Place;

class RampTest {
  private static final double[] LIGHT = light();

  private static final LightForecast DAWN = seconds -> new Ev(dawn(seconds));

  /** A dawn at 40°, from a sun 14° below the horizon on. */
  private static double[] light() {
    LightForecast sky =
        LightForecast.clearSky(new Place(40, 0), Instant.parse("2026-03-20T04:59:00Z"));
    double[] light = new double[700];
    for (int i = 0; i < light.length; i++) {
      light[i] = sky.at(10 * i).value();
    }
    return light;
  }

  private static double dawn(double seconds) {
    double at = Math.max(0, Math.min(LIGHT.length - 1.000001, seconds / 10));
    int cell = (int) at;
    return LIGHT[cell] + (at - cell) * (LIGHT[cell + 1] - LIGHT[cell]);
  }

  /** A tenth of a stop either way of lens, two hundredths of all else. */
  private static IntToDoubleFunction scatter(long seed) {
    return frame -> {
      Random random = new Random(seed * 1_000_003 + frame * 7919L);
      random.nextLong();
      return 0.1 * (2 * random.nextDouble() - 1) + 0.02 * random.nextGaussian();
    };
  }

  private static DoubleUnaryOperator shaded(
      DoubleUnaryOperator light, double from, double to, double stops) {
    return t -> light.applyAsDouble(t) + (t >= from && t < to ? stops : 0);
  }

  /**
   * A first-order filter at 0.2 lags by r·T/α, here 0.33 stop, for ever; a straight line is no
   * sky's course.
   */
  @ParameterizedTest
  @ValueSource(doubles = {0.4, -0.4, 0.1})
  void doesNotLagAStraightRamp(double perMinute) {
    LapseRun run = new LapseRun(10, t -> 4 + perMinute * t / 60).run(120);
    assertTrue(run.largest(60, 120) < 0.05, "off by " + run.largest(60, 120));
  }

  @ParameterizedTest
  @ValueSource(ints = {1, 2, 3, 4, 5})
  void followsADawnWithinItsNoise(int seed) {
    LapseRun run = new LapseRun(5, RampTest::dawn).scattering(scatter(seed)).run(960);
    assertTrue(run.rms(0, 960) <= 0.03, "RMS " + run.rms(0, 960));
    LapseRun thirds = new LapseRun(5, RampTest::dawn).scattering(scatter(seed)).inThirds().run(960);
    assertTrue(thirds.rms(0, 960) <= 0.105, "RMS in thirds " + thirds.rms(0, 960));
  }

  /**
   * Behind a cloud of three frames a dawn has gone on by more than half a stop: what is brighter
   * then than the likeliest course foretold is as well the light of a steeper one.
   */
  @ParameterizedTest
  @ValueSource(ints = {2, 3, 11, 19})
  void keepsItsCourseBehindCloudsAtLongIntervals(int seed) {
    LightForecast sky =
        LightForecast.clearSky(new Place(0, 0), Instant.parse("2026-03-20T05:11:00Z"));
    BrokenCloud cloud = BrokenCloud.of(seed);
    DoubleUnaryOperator light = t -> sky.at(t).value();
    LapseRun run =
        new LapseRun(30, light)
            .seeing(t -> light.applyAsDouble(t) + cloud.at(t).value())
            .scattering(scatter(seed))
            .run(170);
    assertTrue(run.rms(0, 170) < 0.12, "RMS " + run.rms(0, 170));
    assertTrue(run.largest(40, 170) < 0.3, "off by " + run.largest(40, 170));
  }

  /** A clock twenty minutes wrong, or a valley in the shade: the forecast is not insisted on. */
  @ParameterizedTest
  @ValueSource(ints = {1200, -1200})
  void leavesAForecastThatDoesNotCome(int lateSeconds) {
    LapseRun run =
        new LapseRun(10, t -> dawn(t + 1200))
            .knowing(seconds -> DAWN.at(seconds + 1200 + lateSeconds))
            .scattering(scatter(6))
            .run(460);
    assertTrue(run.rms(0, 460) < 0.04, "RMS " + run.rms(0, 460));
  }

  /** The light stands just where two clicks are equally near. */
  @ParameterizedTest
  @ValueSource(ints = {1, 2, 3, 4, 5})
  void doesNotToggleUnderNoise(int seed) {
    double between = 4 + 1.0 / 6;
    LapseRun run = new LapseRun(5, t -> between).scattering(scatter(seed)).inThirds().run(500);
    assertTrue(run.changes(40) <= 1, "changes " + run.changes(40));
  }

  @ParameterizedTest
  @CsvSource({"-2.3, 120", "-1, 200", "-0.5, 60", "0.58, 20", "5, 10", "-8, 10"})
  void letsAPassingChangePassWithoutRinging(double stops, double seconds) {
    LapseRun run =
        new LapseRun(5, RampTest::dawn)
            .seeing(shaded(RampTest::dawn, 1500, 1500 + seconds, stops))
            .run(600);
    assertTrue(run.largest(300, 600) < 0.1, "off by " + run.largest(300, 600));
    int crossings = 0;
    int side = 0;
    for (int k = 300; k < 600; k++) {
      int now = run.error(k) > 0.03 ? 1 : run.error(k) < -0.03 ? -1 : side;
      crossings += side != 0 && now != side ? 1 : 0;
      side = now;
    }
    assertTrue(crossings <= 1, "crossings " + crossings);
  }

  /** Downwards after five minutes, since broken cloud's shades are shorter; upwards after one. */
  @ParameterizedTest
  @CsvSource({"5, -1.5, 80", "5, 1.5, 24", "30, -1.5, 30", "30, 1.5, 20"})
  void followsALastingChange(double interval, double stops, int frames) {
    int when = 200;
    DoubleUnaryOperator light = t -> t < when * interval ? 5 : 5 + stops;
    LapseRun run = new LapseRun(interval, light).scattering(scatter(9)).run(when + frames + 100);
    double later = run.largest(when + frames, when + frames + 100);
    assertTrue(later < 0.15, "still off by " + later);
  }

  @Test
  void goesOnBlindAlongTheSky() {
    LapseRun known = new LapseRun(5, RampTest::dawn).knowing(DAWN).reading(k -> k < 300).run(660);
    assertTrue(known.largest(300, 660) < 0.05, "known off by " + known.largest(300, 660));
    LapseRun unknown = new LapseRun(5, RampTest::dawn).reading(k -> k < 300).run(480);
    assertTrue(unknown.largest(300, 480) < 0.5, "unknown off by " + unknown.largest(300, 480));
    assertTrue(
        unknown.choices.get(479).why().contains("No frame is read for 9"),
        unknown.choices.get(479).why());
  }

  @Test
  void lastsThroughADayAndANight() {
    LightForecast sky =
        LightForecast.clearSky(new Place(40, 0), Instant.parse("2026-03-20T14:00:00Z"));
    DoubleUnaryOperator light = t -> sky.at(t).value();
    LapseRun run = new LapseRun(60, light).scattering(scatter(4)).run(1600);
    assertTrue(run.rms(30, 1600) < 0.12, "RMS " + run.rms(30, 1600));
  }

  @ParameterizedTest
  @ValueSource(booleans = {true, false})
  void opensTheShutterBeforeIsoAndClosesItAfter(boolean thirds) {
    for (int sign : new int[] {-1, 1}) {
      LapseRun run = new LapseRun(10, t -> (sign < 0 ? 6 : -6) + sign * t / 300);
      run = (thirds ? run.inThirds() : run).run(360);
      for (RampChoice choice : run.choices) {
        boolean isLongest = choice.exposure().shutter().seconds() > 7 / 1.27 / 1.12;
        assertTrue(
            choice.exposure().iso().speed() == 100 || isLongest,
            () -> "ISO is raised while the shutter could be longer: " + choice.exposure());
        assertEquals(run.choices.get(0).exposure().aperture(), choice.exposure().aperture());
        if (!thirds) {
          assertEquals(0, choice.expectedError().value(), 0.001, choice::why);
        }
      }
      assertTrue(run.choices.stream().anyMatch(it -> it.exposure().iso().speed() > 1000));
      assertTrue(run.choices.stream().anyMatch(it -> it.exposure().shutter().seconds() < 1));
    }
  }

  @Test
  void saysWhenTheLimitsDoNotSuffice() {
    LapseRun run = new LapseRun(10, t -> -14).run(20);
    String why = run.choices.get(19).why();
    assertTrue(why.contains("stops too dark"), why);
  }

  @Test
  void nightStaysNight() {
    LapseRun run = new LapseRun(10, t -> -5).wishing(Wish.usual()).run(20);
    assertEquals(Wish.usual().at(new Ev(-5)).value(), run.choices.get(19).wish().value(), 0.01);
  }

  @Test
  void lateAndRepeatedFramesChangeNothing() {
    RampSetup setup =
        new RampSetup(LapseRun.latitude(7, 0), Wish.usual(), 10, new Ev(3), Optional.empty());
    Ramp ramp = Ramp.start(setup);
    for (int k = 0; k < 50; k++) {
      ramp = ramp.after(sighting(k * 10, 3 + 0.02 * k, 0));
    }
    Ramp again = ramp.after(sighting(490, 9, 0)).after(sighting(100, -9, 0));
    assertEquals(ramp.next(510), again.next(510));
  }

  /**
   * A bright window: a frame reads at most what it holds, so that the first ones tell too little.
   */
  @Test
  void findsALightThatTheFirstFramesAreTooBrightToTell() {
    Ramp ramp = windowed(0.3);
    assertEquals(14.55, ramp.next(30).forecast().value(), 0.01);
    // Where nothing is clipped, a scene that is suddenly brighter is not believed at once.
    assertTrue(windowed(0).next(30).forecast().value() < 13.5);
  }

  private static Ramp windowed(double clipped) {
    Ramp ramp =
        Ramp.start(
            new RampSetup(LapseRun.latitude(7, 0), Wish.usual(), 10, new Ev(12), Optional.empty()));
    double[][] frames = {{12, 12.58}, {13, 13.08}, {15, 14.55}};
    for (int k = 0; k < frames.length; k++) {
      ramp =
          ramp.after(
              new Sighting(
                  10 * k,
                  new Ev(frames[k][0]),
                  new Ev(frames[k][1]),
                  new Share(clipped),
                  Optional.empty()));
    }
    return ramp;
  }

  private static Sighting sighting(double seconds, double scene, double clipped) {
    return new Sighting(
        seconds, new Ev(3), new Ev(scene), new Share(clipped), Optional.<Stops>empty());
  }

  /**
   * From a moment on a part of the picture glows so that share·2^(−x/1.2) of it is x stops brighter
   * than what clips at mid grey.
   */
  @ParameterizedTest
  @CsvSource({"0.007, true", "0.0155, true", "0.007, false", "0.0155, false"})
  void holdsTheHighlightsWithinThreeFrames(double glow, boolean headroomIsTold) {
    Wish wish = Wish.level(Stops.ZERO);
    RampSetup setup =
        new RampSetup(LapseRun.latitude(7, 0.0001), wish, 10, new Ev(6), Optional.empty());
    Ramp ramp = Ramp.start(setup);
    double[] exposures = new double[200];
    int beyond = 0;
    int onEnd = 0;
    int longest = 0;
    for (int k = 0; k < 200; k++) {
      if (k >= 2) {
        double share = k - 2 < 60 ? 0 : glow * Math.pow(2, -(exposures[k - 2] - 6) / 1.2);
        boolean clips = share > wish.mostClipped().value();
        Optional<Stops> headroom =
            headroomIsTold && share > 0 && !clips
                ? Optional.of(new Stops(1.2 * Math.log(0.005 / share) / Math.log(2)))
                : Optional.empty();
        ramp =
            ramp.after(
                new Sighting(
                    (k - 2) * 10,
                    new Ev(exposures[k - 2]),
                    new Ev(6),
                    new Share(Math.min(1, share)),
                    headroom));
        beyond += clips ? 1 : 0;
        onEnd = clips ? onEnd + 1 : 0;
        longest = Math.max(longest, onEnd);
      }
      RampChoice choice = ramp.next(k * 10);
      exposures[k] = choice.exposure().ev().value();
      ramp = ramp.afterChosen(choice);
    }
    assertTrue(longest >= 1 && longest <= 3, "frames on end beyond the wish: " + longest);
    assertTrue(!headroomIsTold || beyond <= 3, "frames beyond the wish: " + beyond);
    assertTrue(exposures[199] <= 6 + wish.mostHeld().value() + 1e-3, "held by no more than wished");
  }
}

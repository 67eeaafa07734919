package org.scenespan.plan.settings;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.scenespan.light.Aperture;
import org.scenespan.light.CameraRange;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;
import org.scenespan.light.ShutterLadder;
import org.scenespan.sky.Horizon;
import org.scenespan.sky.Place;
import org.scenespan.sky.SunDay;

class LapseOutlineTest {
  private static final CameraRange CAMERA =
      new CameraRange(
          ShutterLadder.thirds(Shutter.parse("1/8000"), Shutter.parse("30s")),
          Iso.parse("100"),
          Iso.parse("12800"),
          Aperture.parse("f/1.4"),
          Aperture.parse("f/22"));

  private static final Place PLACE = new Place(40, 0);
  private static final SunDay DAY = SunDay.of(PLACE, LocalDate.of(2026, 3, 20), ZoneOffset.UTC);
  private static final Instant RISE = DAY.rising(Horizon.RISE_AND_SET).orElseThrow();

  private static LapseOutline outline(Instant from, Duration length, double interval, String iso) {
    return new LapseOutline(
        PLACE,
        from,
        from.plus(length),
        new LapseOutline.Cadence(
            Duration.ofMillis(Math.round(interval * 1000)),
            Duration.ofMillis(500),
            Duration.ofMillis(500)),
        CAMERA,
        Aperture.parse("f/2.8"),
        Iso.parse(iso));
  }

  /** Frames = seconds × rate: 10 s at 24 is 240; three hours at 5 s are 2160 frames, 90 s of it. */
  @ParameterizedTest
  @CsvSource({"10800, 5, 2160, 90.0", "1200, 5, 240, 10.0", "7200, 10, 720, 30.0"})
  void countsFramesAndClip(int seconds, double interval, long frames, double clip) {
    LapseOutline outline = outline(RISE, Duration.ofSeconds(seconds), interval, "100");
    assertEquals(frames, outline.frames());
    assertEquals(clip, outline.clipSeconds(24), 1e-9);
    assertEquals(frames * 0.03, outline.gigabytes(30), 1e-9);
    assertEquals((long) Math.ceil(frames / 400.0), outline.charges(400));
  }

  /** Shutter ≤ interval − write time − margin [practice]. */
  @Test
  void theShutterLeavesTimeToWrite() {
    LapseOutline outline = outline(RISE.minusSeconds(7200), Duration.ofHours(3), 10, "1600");
    assertEquals(9, outline.cadence().longestShutter().seconds(), 1e-9);
    assertEquals(8, outline.latitude().brightest().shutter().seconds(), 1e-9);
  }

  /** Sunrise: 454 lx on the ground, EV 7.5 (C = 250); civil dawn, 3.41 lx, EV 0.45. */
  @Test
  void expectsTheLightOfTheSky() {
    LapseOutline outline = outline(RISE.minusSeconds(7200), Duration.ofHours(4), 10, "3200");
    LapseOutline.Moment rise = outline.moment("sunrise", RISE);
    assertEquals(7.5, rise.ground().value(), 0.03);
    assertEquals(0, rise.brighter().value(), 0.17);
    LapseOutline.Moment civil =
        outline.moment("civil dawn", DAY.rising(Horizon.CIVIL).orElseThrow());
    assertEquals(0.45, civil.ground().value(), 0.03);
    assertEquals(Iso.parse("100"), rise.exposure().iso());
    assertEquals(Aperture.parse("f/2.8"), rise.exposure().aperture());
  }

  @Test
  void warnsWhereTheLimitsDoNotSpanTheLight() {
    LapseOutline outline = outline(RISE.minusSeconds(7200), Duration.ofHours(4), 10, "1600");
    List<LapseOutline.Gap> gaps = outline.gaps();
    assertEquals(1, gaps.size(), "" + gaps);
    LapseOutline.Gap dark = gaps.get(0);
    assertTrue(dark.tooDark());
    assertEquals(outline.from(), dark.from());
    assertTrue(dark.until().isBefore(RISE));
    assertTrue(dark.words().contains("too dark"), dark.words());
    LapseOutline.Moment after = outline.moment("", dark.until().plusSeconds(60));
    assertEquals(0, after.brighter().value(), 0.34);
    assertEquals(List.of(), outline(RISE, Duration.ofHours(1), 10, "1600").gaps());
  }

  /** At 40° the light grows by 0.32 stop a minute at the fastest [computed]. */
  @Test
  void knowsTheFastestStepFromFrameToFrame() {
    LapseOutline outline = outline(RISE.minusSeconds(7200), Duration.ofHours(3), 30, "1600");
    assertEquals(0.16, outline.fastestPerFrame().value(), 0.005);
  }

  @Test
  void refusesWhatCannotBe() {
    assertThrows(
        IllegalArgumentException.class, () -> outline(RISE, Duration.ofHours(-1), 10, "100"));
    assertThrows(
        IllegalArgumentException.class, () -> outline(RISE, Duration.ofHours(50), 10, "100"));
    assertThrows(
        IllegalArgumentException.class, () -> outline(RISE, Duration.ofHours(1), 1, "100"));
    assertThrows(
        IllegalArgumentException.class, () -> outline(RISE, Duration.ofSeconds(5), 10, "100"));
  }
}

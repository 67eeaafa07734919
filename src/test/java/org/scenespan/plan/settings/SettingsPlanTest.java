package org.scenespan.plan.settings;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.scenespan.light.Aperture;
import org.scenespan.light.CameraRange;
import org.scenespan.light.Distance;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.light.FocalLength;
import org.scenespan.light.Iso;
import org.scenespan.light.Movement;
import org.scenespan.light.NeutralDensity;
import org.scenespan.light.SensorFormat;
import org.scenespan.light.Shutter;
import org.scenespan.light.ShutterLadder;
import org.scenespan.light.Speed;

class SettingsPlanTest {
  private static final CameraRange CAMERA =
      new CameraRange(
          ShutterLadder.thirds(Shutter.parse("1/8000"), Shutter.parse("30s")),
          Iso.parse("100"),
          Iso.parse("6400"),
          Aperture.parse("f/2.8"),
          Aperture.parse("f/22"));

  private static final SensorFormat SENSOR = SensorFormat.parse("full-frame", 6000);
  private static final FocalLength WIDE = FocalLength.parse("24mm");

  private static Wish.Depth depth(String near) {
    return new Wish.Depth(WIDE, SENSOR, Distance.parse(near), Distance.INFINITE);
  }

  private static Wish.Freeze freeze(String speed, String distance) {
    return new Wish.Freeze(
        new Movement(Speed.parse(speed), Distance.parse(distance), Movement.Direction.ACROSS),
        WIDE,
        SENSOR,
        2);
  }

  private static SettingsPlan plan(double ev, Wish... wishes) {
    return new SettingsPlan(new Ev(ev), NeutralDensity.NONE, CAMERA, List.of(wishes));
  }

  /** Front-lit by the sun (EV 15): f/8 at 1/500 s and ISO 100 [computed]. */
  @ParameterizedTest
  @CsvSource({
    "15, '1/500 s, f/8, ISO 100'",
    "12, '1/60 s, f/8, ISO 100'",
    "-1, '30 s, f/4, ISO 100'"
  })
  void withoutWishesTheMeterDecides(double ev, String expected) {
    Settings best = plan(ev).ranked().get(0);
    assertEquals(expected, best.exposure().toString());
    assertTrue(best.meetsAll());
    assertEquals(ev, best.exposure().ev().value(), 0.17);
  }

  @Test
  void everyProposalSaysTruly() {
    Random random = new Random(7);
    for (int round = 0; round < 15; round++) {
      List<Wish> wishes = new ArrayList<>();
      if (random.nextBoolean()) {
        wishes.add(depth(0.6 + random.nextInt(5) + "m"));
      }
      if (random.nextBoolean()) {
        wishes.add(freeze(0.1 + random.nextInt(8) + "m/s", 3 + random.nextInt(40) + "m"));
      }
      if (random.nextBoolean()) {
        wishes.add(new Wish.Blur(Shutter.ofThird(random.nextInt(12) - 6), "the water"));
      }
      if (random.nextBoolean()) {
        wishes.add(new Wish.LowNoise(Iso.ofThird(random.nextInt(12))));
      }
      Ev scene = new Ev(random.nextDouble() * 24 - 6);
      SettingsPlan plan = new SettingsPlan(scene, NeutralDensity.NONE, CAMERA, wishes);
      List<Settings> ranked = plan.ranked();
      double before = 0;
      for (Settings settings : ranked) {
        Exposure exposure = settings.exposure();
        assertTrue(exposure.shutter().third().isPresent(), "on the ladder: " + exposure);
        assertEquals(scene.value() - exposure.ev().value(), settings.brighter().value(), 1e-9);
        double missed = Math.abs(settings.brighter().value());
        double total = missed > Settings.HALF_STEP_STOPS ? missed : 0;
        for (Wish wish : wishes) {
          double shortfall = wish.shortfall(exposure).value();
          total += shortfall > 0.05 ? shortfall : 0;
        }
        assertEquals(total, settings.total().value(), 1e-9, settings.words());
        assertTrue(total >= before - 0.06, "ranked: " + ranked);
        before = total;
      }
      assertEquals(plan.canBeMet(), ranked.get(0).meetsAll());
      assertEquals(plan.canBeMet(), plan.remedies().isEmpty());
    }
  }

  /** The example of the trade: foreground, leaves and noise cannot all be had in dim light. */
  @Test
  void saysWhatHasToGive() {
    SettingsPlan plan =
        plan(9, depth("0.9m"), freeze("0.1m/s", "5m"), new Wish.LowNoise(Iso.parse("100")));
    assertFalse(plan.canBeMet());
    List<Settings> ranked = plan.ranked();
    List<String> only =
        ranked.stream()
            .filter(it -> it.givenUp().size() == 1)
            .map(it -> it.givenUp().get(0).what())
            .toList();
    assertTrue(
        only.containsAll(List.of("the depth of field", "the frozen subject", "the low noise")),
        () -> "" + ranked);
    Settings quiet =
        ranked.stream()
            .filter(it -> it.givenUp().size() == 1)
            .filter(it -> it.givenUp().get(0).what().equals("the frozen subject"))
            .findFirst()
            .orElseThrow();
    assertEquals(Iso.parse("100"), quiet.exposure().iso());
    assertTrue(quiet.words().contains("the subject will blur"), quiet.words());
    assertTrue(quiet.words().contains("to infinity"), quiet.words());
    assertTrue(
        plan.remedies().stream().anyMatch(it -> it.contains("brighter light")),
        () -> "" + plan.remedies());
  }

  /** Silky water (1/3 s) in the sun, EV 15: f/22 at ISO 100 is 1/64 s, 4.4 stops short. */
  @Test
  void proposesTheFilterThatSilkyWaterNeeds() {
    SettingsPlan plan = plan(15, new Wish.Blur(Shutter.parse("0.3s"), "the water"));
    assertFalse(plan.canBeMet());
    assertEquals(4.33, plan.ranked().get(0).total().value(), 0.2);
    assertTrue(
        plan.remedies().get(0).startsWith("With neutral density of 5.0 stops"),
        () -> "" + plan.remedies());
    SettingsPlan filtered =
        new SettingsPlan(new Ev(15), NeutralDensity.parse("ND64"), CAMERA, plan.wishes());
    assertTrue(filtered.canBeMet());
    assertTrue(filtered.ranked().get(0).exposure().shutter().seconds() > 0.31);
  }

  @Test
  void takesTheFilterOffWhenItIsTooDark() {
    SettingsPlan plan =
        new SettingsPlan(
            new Ev(12), NeutralDensity.parse("10stops"), CAMERA, List.of(freeze("2m/s", "10m")));
    assertFalse(plan.canBeMet());
    assertTrue(
        plan.remedies().get(0).startsWith("With neutral density of only"),
        () -> "" + plan.remedies());
  }

  /** A wish for stillness and one for blur of the same time contradict in any light. */
  @Test
  void saysWhenWishesContradict() {
    SettingsPlan plan = plan(10, freeze("5m/s", "5m"), new Wish.Blur(Shutter.parse("1s"), "water"));
    assertEquals(
        List.of("No light and no filter lets all wishes hold together: they contradict."),
        plan.remedies());
  }

  @Test
  void handsItsLimitsOn() {
    Wish.Freeze freeze = freeze("0.05m/s", "5m");
    Wish.LowNoise noise = new Wish.LowNoise(Iso.parse("800"));
    SettingsPlan plan = plan(11, depth("1.2m"), freeze, noise);
    Settings best = plan.ranked().get(0);
    assertTrue(best.meetsAll(), best.words());
    PlannedLimits limits = PlannedLimits.of(best, plan.wishes());
    assertEquals(best.exposure(), limits.start());
    assertEquals(freeze.longestSeconds(), limits.longest().orElseThrow().seconds(), 1e-9);
    assertEquals(Iso.parse("800"), limits.highestIso());
    assertEquals(best.exposure().aperture(), limits.picture().aperture());
  }

  @Test
  void aWishGivenUpLeavesALimitThatTheStartKeeps() {
    SettingsPlan plan = plan(0, freeze("5m/s", "5m"));
    Settings best = plan.ranked().get(0);
    assertFalse(best.meetsAll());
    PlannedLimits limits = PlannedLimits.of(best, plan.wishes());
    assertEquals(best.exposure().shutter(), limits.longest().orElseThrow());
  }

  /** Stars: 14 mm f/2.8, 4.35 µm, 7.74 s at k 1 [practice]. */
  @Test
  void starsBindTheShutterByTheAperture() {
    SensorFormat fine = new SensorFormat(36, 24, 8276);
    Wish.StarPoints stars = new Wish.StarPoints(new FocalLength(14), fine, 0, 1);
    assertEquals(7.74, stars.longestSeconds(new Aperture(2.8)), 0.01);
    Exposure six = new Exposure(Shutter.parse("6s"), Aperture.parse("2.8"), Iso.parse("1600"));
    assertTrue(Settings.holds(stars.shortfall(six)));
    assertFalse(Settings.holds(stars.shortfall(six.withShutter(Shutter.parse("10s")))));
  }

  /** f/8 holds 1.2 m to infinity at 24 mm but for 0.01 stop: nobody is told "to 240 m". */
  @Test
  void whatPassesIsToldAsWished() {
    Exposure f8 = new Exposure(Shutter.parse("1/60"), Aperture.parse("f/8"), Iso.parse("100"));
    String words = depth("1.2m").outcome(f8);
    assertTrue(words.startsWith("holds 1.20 m to infinity"), words);
    String missed = depth("0.9m").outcome(f8);
    assertTrue(missed.startsWith("sharp only from 1.03 m to 6.9"), missed);
  }
}

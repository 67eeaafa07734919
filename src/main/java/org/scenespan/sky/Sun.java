package org.scenespan.sky;

import java.time.Instant;
import java.time.ZoneOffset;
import java.time.ZonedDateTime;
import java.time.temporal.ChronoUnit;
import java.util.function.Function;
import net.e175.klaus.solarpositioning.DeltaT;
import net.e175.klaus.solarpositioning.SPA;
import net.e175.klaus.solarpositioning.SolarPosition;

/**
 * The sun's position by the Solar Position Algorithm (Reda and Andreas 2004, NREL/TP-560-34302),
 * good to 0.0003° for the years −2000 to 6000.
 */
public final class Sun {
  private Sun() {}

  /** The true direction, as if there were no air; what tables of twilight are made by. */
  public static SunPosition at(Place place, Instant when) {
    return position(
        when,
        time ->
            SPA.calculateSolarPosition(
                time, place.latitude(), place.longitude(), 0, DeltaT.estimate(time.toLocalDate())));
  }

  /** Where the disc is seen, raised by the air's refraction (about half a degree when it rises). */
  public static SunPosition seen(Place place, Instant when, Air air) {
    return position(
        when,
        time ->
            SPA.calculateSolarPosition(
                time,
                place.latitude(),
                place.longitude(),
                0,
                DeltaT.estimate(time.toLocalDate()),
                air.pressureMillibars(),
                air.celsius()));
  }

  /** The library counts whole seconds; what lies between two is a line. */
  private static SunPosition position(
      Instant when, Function<ZonedDateTime, SolarPosition> algorithm) {
    ZonedDateTime second = when.atZone(ZoneOffset.UTC).truncatedTo(ChronoUnit.SECONDS);
    double share = when.getNano() / 1e9;
    SolarPosition before = algorithm.apply(second);
    SolarPosition after = share == 0 ? before : algorithm.apply(second.plusSeconds(1));
    double turn = Math.IEEEremainder(after.azimuth() - before.azimuth(), 360);
    double zenith = before.zenithAngle() + share * (after.zenithAngle() - before.zenithAngle());
    double azimuth = before.azimuth() + share * turn;
    return new SunPosition(90 - zenith, (azimuth % 360 + 360) % 360);
  }
}

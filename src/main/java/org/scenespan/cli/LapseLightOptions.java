package org.scenespan.cli;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.time.ZonedDateTime;
import java.util.Optional;
import org.scenespan.light.Ev;
import org.scenespan.light.Stops;
import org.scenespan.rehearsal.LightCurve;
import org.scenespan.rehearsal.LightTable;
import org.scenespan.session.Gear;
import org.scenespan.session.LapseSetup;
import org.scenespan.sky.Horizon;
import org.scenespan.sky.Place;
import org.scenespan.sky.SunDay;
import picocli.CommandLine.Option;

/** Where a lapse's light comes from: the place, or a simulated scene's light. */
final class LapseLightOptions {
  /** How long a lapse goes on on the bright side of the sun's crossing. */
  private static final Duration BRIGHT_SIDE = Duration.ofHours(1);

  private static final String SUNRISE = "sunrise";
  private static final String SUNSET = "sunset";

  @Option(
      names = "--at",
      paramLabel = "LAT,LON",
      converter = Values.PlaceValue.class,
      description =
          "The place in decimal degrees, north and east positive, such as 46.5,8.0: the ramp then"
              + " knows what the sky's light should do.")
  private Place place;

  @Option(
      names = "--simulate",
      paramLabel = "LIGHT",
      description =
          "Instead of real parts, in virtual time: sunrise or sunset (with --at and --date), or a"
              + " FILE.csv with the columns seconds,ev.")
  private String simulate;

  @Option(
      names = "--date",
      paramLabel = "YYYY-MM-DD",
      converter = Values.DateValue.class,
      description = "The local day of a simulated sunrise or sunset.")
  private LocalDate date;

  @Option(
      names = "--zone",
      paramLabel = "ZONE",
      converter = Values.ZoneValue.class,
      description =
          "The place's time zone, such as Europe/Zurich. Default: this machine's; of a simulated"
              + " sky, the nearest whole hour to the sun's time.")
  private ZoneId zone;

  @Option(
      names = "--from",
      paramLabel = "HH:MM",
      converter = Values.TimeValue.class,
      description =
          "The first frame of a simulated sky, in local time. Default: nautical dawn, or an hour"
              + " before sunset.")
  private LocalTime from;

  @Option(names = "--clouds", description = "Let broken cloud pass in a simulated sky.")
  private boolean clouds;

  @Option(
      names = "--lens-scatter",
      paramLabel = "STOPS",
      defaultValue = "0",
      converter = Values.StopsValue.class,
      description =
          "By how much at most a simulated lens is off from frame to frame (${DEFAULT-VALUE}).")
  private Stops scatter;

  @Option(
      names = "--seed",
      paramLabel = "N",
      defaultValue = "1",
      description =
          "A simulated lapse's chance; the same seed gives the same frames (${DEFAULT-VALUE}).")
  private long seed;

  private Optional<LightTable> table = Optional.empty();

  /**
   * Looks whether what is said of the light goes together.
   *
   * @throws IllegalArgumentException if not
   */
  void check(Duration interval) {
    if (simulate == null) {
      if (date != null || from != null || clouds || scatter.value() != 0) {
        throw new IllegalArgumentException(
            "--date, --from, --clouds and --lens-scatter are for --simulate");
      }
      return;
    }
    if (isSky()) {
      if (place == null || date == null) {
        throw new IllegalArgumentException("--simulate " + simulate + " needs --at and --date");
      }
    } else {
      if (!Files.isRegularFile(Path.of(simulate))) {
        throw new IllegalArgumentException(
            "--simulate \""
                + simulate
                + "\" is neither sunrise nor sunset, nor a file with the columns seconds,ev");
      }
      table = Optional.of(LightCurve.read(Path.of(simulate)));
    }
    if (interval.isZero()) {
      throw new IllegalArgumentException("--interval must be above 0");
    }
  }

  private boolean isSky() {
    return SUNRISE.equals(simulate) || SUNSET.equals(simulate);
  }

  Optional<Gear.Rehearsal> rehearsal() {
    if (simulate == null) {
      return Optional.empty();
    }
    Gear.Light light =
        isSky()
            ? new Gear.Light(Optional.empty(), sky(), clouds, scatter)
            : new Gear.Light(
                Optional.of(Path.of(simulate).toAbsolutePath().normalize().toString()),
                Optional.empty(),
                clouds,
                scatter);
    String name = isSky() ? simulate : "light of " + Path.of(simulate).getFileName();
    return Optional.of(
        new Gear.Rehearsal(name, new Ev(0), seed, false, Stops.ZERO, Optional.of(light)));
  }

  /** The place, if it is known; of a simulated sky with the moment at which it begins. */
  Optional<LapseSetup.Sky> sky() {
    if (simulate != null && !isSky()) {
      return Optional.empty();
    }
    return Optional.ofNullable(place)
        .map(at -> new LapseSetup.Sky(at, isSky() ? Optional.of(begin()) : Optional.empty()));
  }

  private ZoneId zone() {
    if (zone != null) {
      return zone;
    }
    return isSky()
        ? ZoneOffset.ofHours((int) Math.round(place.longitude() / 15))
        : ZoneId.systemDefault();
  }

  private SunDay day() {
    return SunDay.of(place, date, zone());
  }

  private Instant begin() {
    if (from != null) {
      return date.atTime(from).atZone(zone()).toInstant();
    }
    return SUNRISE.equals(simulate)
        ? need(day().rising(Horizon.NAUTICAL), "nautical dawn")
        : need(day().setting(Horizon.RISE_AND_SET), SUNSET).minus(BRIGHT_SIDE);
  }

  private Instant need(Optional<Instant> moment, String name) {
    return moment.orElseThrow(
        () ->
            new IllegalArgumentException(
                "there is no " + name + " on " + date + " here; give --from and --for"));
  }

  /** How long it is until a time of day, from the lapse's beginning. */
  Duration until(LocalTime time) {
    ZonedDateTime now = (isSky() ? begin() : Instant.now()).atZone(zone());
    ZonedDateTime end = now.with(time);
    return Duration.between(now, end.isAfter(now) ? end : now.with(time).plusDays(1));
  }

  /** How long a simulated lapse lasts if nothing is said. */
  Optional<Duration> usualLength() {
    if (table.isPresent()) {
      double seconds = table.get().lastSeconds() - table.get().firstSeconds();
      return Optional.of(Duration.ofMillis(Math.round(seconds * 1000)));
    }
    if (!isSky()) {
      return Optional.empty();
    }
    Instant end =
        SUNRISE.equals(simulate)
            ? need(day().rising(Horizon.RISE_AND_SET), SUNRISE).plus(BRIGHT_SIDE)
            : need(day().setting(Horizon.RISE_AND_SET), SUNSET).plus(BRIGHT_SIDE);
    Duration length = Duration.between(begin(), end);
    return length.isNegative() || length.isZero() ? Optional.empty() : Optional.of(length);
  }
}

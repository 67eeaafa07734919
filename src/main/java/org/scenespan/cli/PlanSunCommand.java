package org.scenespan.cli;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.PrintWriter;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.ZonedDateTime;
import java.time.format.DateTimeFormatter;
import java.time.temporal.ChronoUnit;
import java.util.Locale;
import java.util.concurrent.Callable;
import org.scenespan.sky.ClearSky;
import org.scenespan.sky.Place;
import org.scenespan.sky.SunDay;
import org.scenespan.wire.PlanJson;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** The sun through a day. */
@Command(
    name = "sun",
    mixinStandardHelpOptions = true,
    sortOptions = false,
    description =
        "The sun on a day: rise, set, transit and the twilights, where the disc comes up, and the"
            + " light to expect on level ground under a clear sky without a moon.",
    footerHeading = "%nExample:%n",
    footer = "  scenespan plan sun --at 46.5,8.0 --date 2026-06-01 --zone Europe/Zurich")
final class PlanSunCommand implements Callable<Integer> {
  private static final DateTimeFormatter MINUTES =
      DateTimeFormatter.ofPattern("HH:mm", Locale.ROOT);

  @Spec private CommandSpec spec;

  @Option(
      names = "--at",
      paramLabel = "LAT,LON",
      required = true,
      converter = Values.PlaceValue.class,
      description = "The place in decimal degrees, north and east positive, such as 46.5,8.0.")
  private Place place;

  @Option(
      names = "--date",
      paramLabel = "YYYY-MM-DD",
      required = true,
      converter = Values.DateValue.class,
      description = "The local day.")
  private LocalDate date;

  @Option(
      names = "--zone",
      paramLabel = "ZONE",
      required = true,
      converter = Values.ZoneValue.class,
      description = "The place's time zone, such as Europe/Zurich or +02:00.")
  private ZoneId zone;

  @Option(names = "--json", description = "Write one JSON object.")
  private boolean json;

  @Override
  public Integer call() {
    SunDay day = SunDay.of(place, date, zone);
    PrintWriter out = spec.commandLine().getOut();
    if (json) {
      out.println(node(day));
    } else {
      tell(out, day);
    }
    out.flush();
    return ExitCode.DONE;
  }

  private ObjectNode node(SunDay day) {
    ObjectNode node = PlanJson.object("sun");
    PlanJson.put(node, "latitude", place.latitude());
    PlanJson.put(node, "longitude", place.longitude());
    node.put("date", date.toString());
    node.put("zone", zone.getId());
    ObjectNode outcomes = node.putObject("outcomes");
    SunEvents.outcomes(day).forEach(outcomes::put);
    ArrayNode events = node.putArray("events");
    for (SunEvents.SunEvent it : SunEvents.of(day)) {
      ObjectNode event = events.addObject();
      event.put("event", it.name());
      event.put("at", written(it.at(), zone));
      PlanJson.put(event, "azimuthDegrees", it.sun().azimuthDegrees());
      PlanJson.put(event, "altitudeDegrees", it.sun().altitudeDegrees());
      event.put("lux", it.light().lux());
      PlanJson.put(event, "groundEv", it.light().ev().value());
      PlanJson.put(event, "stopsPerMinute", ClearSky.perMinute(place, it.at()).value());
    }
    return node;
  }

  /** With its offset, to the second. */
  static String written(Instant at, ZoneId zone) {
    ZonedDateTime second = at.plusMillis(500).atZone(zone).truncatedTo(ChronoUnit.SECONDS);
    return DateTimeFormatter.ISO_OFFSET_DATE_TIME.format(second);
  }

  /** To the nearest minute, as almanacs print it. */
  static String clock(Instant at, ZoneId zone) {
    return MINUTES.format(at.plusSeconds(30).atZone(zone));
  }

  private void tell(PrintWriter out, SunDay day) {
    out.println("The sun at " + place + " on " + date + " (" + zone + ")");
    SunEvents.remarks(day).forEach(out::println);
    out.println("                     time   azimuth    altitude   light on level ground");
    for (SunEvents.SunEvent it : SunEvents.of(day)) {
      out.printf(
          Locale.ROOT,
          "%-19s  %s   %3.0f° %-4s  %6.1f°    %-9s %14s  %+.2f stop/min%n",
          it.name(),
          clock(it.at(), zone),
          it.sun().azimuthDegrees(),
          it.sun().compassPoint(),
          it.sun().altitudeDegrees(),
          it.light().ev(),
          it.light(),
          ClearSky.perMinute(place, it.at()).value());
    }
    out.println(
        "Clear sky, flat horizon, no moon. The sky near a low sun meters up to 4.5 stops more than"
            + " the ground.");
    out.println(PlanCommand.SUN_CAUTION);
    out.println(PlanCommand.ECLIPSE_CAUTION);
  }
}

package org.scenespan.cli;

import java.io.PrintWriter;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.Callable;
import org.scenespan.light.Aperture;
import org.scenespan.light.CameraRange;
import org.scenespan.light.Iso;
import org.scenespan.plan.settings.LapseOutline;
import org.scenespan.sky.Horizon;
import org.scenespan.sky.Place;
import org.scenespan.sky.SunDay;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** What a lapse will need. */
@Command(
    name = "lapse",
    mixinStandardHelpOptions = true,
    sortOptions = false,
    description =
        "What a lapse through a sunrise or a sunset needs: frames, clip, card and charges, and the"
            + " exposures to expect under a clear sky, with a warning where the camera's limits do"
            + " not span them. Default: from nautical dawn to an hour after sunrise.",
    footerHeading = "%nExample:%n",
    footer =
        "  scenespan plan lapse --at 46.5,8.0 --date 2026-06-01 --zone Europe/Zurich --interval 10s"
            + " --highest-iso 3200")
final class PlanLapseCommand implements Callable<Integer> {
  /** How long a lapse goes on on the bright side of the sun's crossing. */
  private static final Duration BRIGHT_SIDE = Duration.ofHours(1);

  private static final Set<String> TOLD =
      Set.of("civil dawn", "sunrise", "sunset", "civil dusk", "transit");

  @Spec private CommandSpec spec;
  @Mixin private RangeOptions camera;
  @Mixin private StorageOptions storage;

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

  @Option(
      names = "--evening",
      description = "Through the sunset: from an hour before it to nautical dusk.")
  private boolean evening;

  @Option(
      names = "--from",
      paramLabel = "HH:MM",
      converter = Values.TimeValue.class,
      description = "The first frame, in local time.")
  private LocalTime from;

  @Option(
      names = "--to",
      paramLabel = "HH:MM",
      converter = Values.TimeValue.class,
      description = "The end, in local time; earlier than the start means the next day.")
  private LocalTime to;

  @Option(
      names = "--interval",
      paramLabel = "TIME",
      defaultValue = "10s",
      converter = Values.DurationValue.class,
      description = "From one frame to the next (${DEFAULT-VALUE}).")
  private Duration interval;

  @Option(
      names = "--write-time",
      paramLabel = "TIME",
      defaultValue = "1s",
      converter = Values.DurationValue.class,
      description = "What the camera needs after an exposure before the next (${DEFAULT-VALUE}).")
  private Duration writeTime;

  @Option(
      names = "--margin",
      paramLabel = "TIME",
      defaultValue = "500ms",
      converter = Values.DurationValue.class,
      description = "What is left beside, for lag (${DEFAULT-VALUE}).")
  private Duration margin;

  @Option(
      names = "--aperture",
      paramLabel = "F",
      converter = Values.ApertureValue.class,
      description = "The aperture, which stays fixed. Default: the widest.")
  private Aperture aperture;

  @Option(
      names = "--highest-iso",
      paramLabel = "ISO",
      defaultValue = "1600",
      converter = Values.IsoValue.class,
      description = "How far ISO may rise (${DEFAULT-VALUE}).")
  private Iso highestIso;

  @Option(names = "--json", description = "Write one JSON object.")
  private boolean json;

  @Override
  public Integer call() {
    SunDay day = SunDay.of(place, date, zone);
    Instant first = from != null ? local(date, from) : usualStart(day);
    CameraRange range = camera.range();
    LapseOutline outline =
        new LapseOutline(
            place,
            first,
            end(day, first),
            new LapseOutline.Cadence(interval, writeTime, margin),
            range,
            aperture != null ? aperture : range.widest(),
            highestIso);
    LapseTelling telling = new LapseTelling(outline, moments(outline, day), storage, zone);
    PrintWriter out = spec.commandLine().getOut();
    if (json) {
      out.println(telling.node());
    } else {
      telling.lines().forEach(out::println);
    }
    out.flush();
    return ExitCode.DONE;
  }

  private Instant local(LocalDate on, LocalTime time) {
    return on.atTime(time).atZone(zone).toInstant();
  }

  private Instant usualStart(SunDay day) {
    return evening
        ? need(day.setting(Horizon.RISE_AND_SET), "sunset").minus(BRIGHT_SIDE)
        : need(day.rising(Horizon.NAUTICAL), "nautical dawn");
  }

  private Instant end(SunDay day, Instant first) {
    if (to != null) {
      Instant same = local(date, to);
      return same.isAfter(first) ? same : local(date.plusDays(1), to);
    }
    return evening
        ? need(nextSetting(day), "nautical dusk")
        : need(day.rising(Horizon.RISE_AND_SET), "sunrise").plus(BRIGHT_SIDE);
  }

  /** Nautical dusk may come after midnight. */
  private Optional<Instant> nextSetting(SunDay day) {
    Optional<Instant> sunset = day.setting(Horizon.RISE_AND_SET);
    return List.of(day, SunDay.of(place, date.plusDays(1), zone)).stream()
        .flatMap(it -> it.setting(Horizon.NAUTICAL).stream())
        .filter(dusk -> sunset.isEmpty() || dusk.isAfter(sunset.get()))
        .findFirst();
  }

  private Instant need(Optional<Instant> moment, String name) {
    return moment.orElseThrow(
        () ->
            new IllegalArgumentException(
                "there is no " + name + " on " + date + " here; give --from and --to"));
  }

  /** Start and end, and what the sun does between. */
  private List<LapseOutline.Moment> moments(LapseOutline outline, SunDay day) {
    List<LapseOutline.Moment> moments = new ArrayList<>();
    moments.add(outline.moment("start", outline.from()));
    for (SunDay each : List.of(day, SunDay.of(place, date.plusDays(1), zone))) {
      for (SunEvents.SunEvent event : SunEvents.of(each)) {
        boolean within = event.at().isAfter(outline.from()) && event.at().isBefore(outline.to());
        if (within && TOLD.contains(event.name())) {
          moments.add(outline.moment(event.name(), event.at()));
        }
      }
    }
    moments.add(outline.moment("end", outline.to()));
    moments.sort(Comparator.comparing(LapseOutline.Moment::at));
    return moments;
  }
}

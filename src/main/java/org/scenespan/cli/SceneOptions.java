package org.scenespan.cli;

import java.nio.file.Path;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.Locale;
import java.util.stream.Stream;
import org.scenespan.folder.FrameReader;
import org.scenespan.folder.UnreadableFrame;
import org.scenespan.frame.FrameReading;
import org.scenespan.frame.MidGrey;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.light.Lighting;
import org.scenespan.light.Share;
import org.scenespan.light.Stops;
import org.scenespan.sky.ClearSky;
import org.scenespan.sky.Place;
import org.scenespan.sky.Sun;
import picocli.CommandLine.Option;

/** How bright the scene is: by number, by the table, from a frame, or by the sun. */
final class SceneOptions {
  @Option(
      names = "--ev",
      paramLabel = "EV",
      converter = Values.EvValue.class,
      description = "How bright the scene is, as EV at ISO 100.")
  private Ev ev;

  @Option(
      names = "--light",
      paramLabel = "NAME",
      converter = Values.LightingValue.class,
      description =
          "Or by eye: sunlit-snow, sun, side-lit, backlit, hazy-sun, cloudy-bright, overcast,"
              + " open-shade, sky-before-sunset, sky-at-sunset, sky-after-sunset, bright-street,"
              + " home-interior, floodlit-building, full-moon.")
  private Lighting lighting;

  @Option(
      names = "--frame",
      paramLabel = "FILE",
      description = "Or from a frame already shot: what would put its median at mid grey.")
  private Path frame;

  @Option(
      names = "--sun-altitude",
      paramLabel = "DEGREES",
      description = "Or the light of a clear sky on level ground with the sun so high.")
  private Double sunAltitude;

  @Option(
      names = "--at",
      paramLabel = "LAT,LON",
      converter = Values.PlaceValue.class,
      description = "Or the same by place and moment, with --date, --time and --zone.")
  private Place place;

  @Option(
      names = "--date",
      paramLabel = "YYYY-MM-DD",
      converter = Values.DateValue.class,
      description = "The day for --at.")
  private LocalDate date;

  @Option(
      names = "--time",
      paramLabel = "HH:MM",
      converter = Values.TimeValue.class,
      description = "The local time for --at.")
  private LocalTime time;

  @Option(
      names = "--zone",
      paramLabel = "ZONE",
      converter = Values.ZoneValue.class,
      description = "The time zone for --at, such as Europe/Zurich.")
  private ZoneId zone;

  /**
   * @param ev the scene
   * @param source how it is known, in words
   */
  record Scene(Ev ev, String source) {}

  /** Whether the sun is in question, so that its cautions are. */
  boolean isBySun() {
    return sunAltitude != null || place != null;
  }

  Scene scene() {
    long given =
        Stream.of(ev, lighting, frame, sunAltitude, place).filter(it -> it != null).count();
    if (given != 1) {
      throw new IllegalArgumentException(
          "say how bright the scene is with one of --ev, --light, --frame, --sun-altitude or --at"
              + (given == 0 ? "" : ", not with several"));
    }
    if (ev != null) {
      return new Scene(ev, "as given");
    }
    if (lighting != null) {
      return new Scene(lighting.ev(), lighting.words());
    }
    return frame != null ? ofFrame() : ofSun();
  }

  private Scene ofSun() {
    double altitude = sunAltitude != null ? sunAltitude : altitudeAtPlace();
    return new Scene(
        ClearSky.illuminance(altitude).ev(),
        String.format(Locale.ROOT, "level ground under a clear sky, the sun at %.1f°", altitude));
  }

  private double altitudeAtPlace() {
    if (date == null || time == null || zone == null) {
      throw new IllegalArgumentException("--at needs --date, --time and --zone");
    }
    return Sun.at(place, date.atTime(time).atZone(zone).toInstant()).altitudeDegrees();
  }

  private Scene ofFrame() {
    try {
      FrameReading reading = new FrameReader().read(frame);
      Exposure exposure =
          reading
              .metadata()
              .exposure()
              .orElseThrow(
                  () ->
                      new IllegalArgumentException(
                          frame + " does not say shutter, aperture and ISO; give --ev instead"));
      Stops median = reading.measure().luminance().percentile(new Share(0.5));
      return new Scene(
          exposure.ev().plus(median).plus(MidGrey.BELOW_SATURATION),
          "the median of " + frame.getFileName());
    } catch (UnreadableFrame unreadable) {
      throw new IllegalArgumentException(frame + ": " + unreadable.getMessage(), unreadable);
    }
  }
}

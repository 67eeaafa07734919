package org.scenespan.cli;

import java.time.Duration;
import java.time.LocalTime;
import java.util.Objects;
import java.util.Optional;
import java.util.stream.Stream;
import org.scenespan.session.LapseSetup;
import picocli.CommandLine.Option;

/** How often a lapse takes a frame, and for how long. */
final class CadenceOptions {
  private static final Duration USUAL_GAP = Duration.ofSeconds(1);

  @Option(
      names = "--interval",
      paramLabel = "TIME",
      defaultValue = "10s",
      converter = Values.DurationValue.class,
      description = "From one frame to the next (${DEFAULT-VALUE}).")
  private Duration interval;

  @Option(names = "--frames", paramLabel = "N", description = "How many frames.")
  private Integer frames;

  @Option(
      names = "--for",
      paramLabel = "TIME",
      converter = Values.DurationValue.class,
      description = "Or for how long.")
  private Duration lasting;

  @Option(
      names = "--until",
      paramLabel = "HH:MM",
      converter = Values.TimeValue.class,
      description = "Or until when, in local time; earlier than now means tomorrow.")
  private LocalTime until;

  @Option(
      names = "--gap",
      paramLabel = "TIME",
      converter = Values.DurationValue.class,
      description =
          "For how long at least the shutter is closed between two frames: what the camera needs to"
              + " write. Default: 1s, of an interval below 2s half of it.")
  private Duration gap;

  Duration interval() {
    return interval;
  }

  /**
   * @param light tells when "until" is, and how long a simulated light lasts
   * @throws IllegalArgumentException if its length is not said, or twice
   */
  LapseSetup.Cadence of(LapseLightOptions light) {
    return new LapseSetup.Cadence(interval, gap != null ? gap : usualGap(), count(light));
  }

  private Duration usualGap() {
    Duration half = interval.dividedBy(2);
    return half.compareTo(USUAL_GAP) < 0 ? half : USUAL_GAP;
  }

  private int count(LapseLightOptions light) {
    long given = Stream.of(frames, lasting, until).filter(Objects::nonNull).count();
    if (given > 1) {
      throw new IllegalArgumentException("give one of --frames, --for and --until");
    }
    if (frames != null) {
      return frames;
    }
    Optional<Duration> time =
        Optional.ofNullable(lasting)
            .or(() -> Optional.ofNullable(until).map(light::until))
            .or(light::usualLength);
    Duration whole =
        time.orElseThrow(
            () ->
                new IllegalArgumentException(
                    "say how long it is to last with --frames, --for or --until"));
    long count = whole.dividedBy(interval);
    return (int) Math.max(1, Math.min(Integer.MAX_VALUE, count));
  }
}

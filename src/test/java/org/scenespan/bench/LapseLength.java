package org.scenespan.bench;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Stream;
import org.scenespan.control.OpenedSession;
import org.scenespan.frame.Region;
import org.scenespan.journal.Sessions;
import org.scenespan.light.Aperture;
import org.scenespan.light.Ev;
import org.scenespan.light.Iso;
import org.scenespan.light.PictureLimits;
import org.scenespan.light.Stops;
import org.scenespan.plan.ramp.Wish;
import org.scenespan.session.Event;
import org.scenespan.session.Gear;
import org.scenespan.session.LapseSetup;
import org.scenespan.session.Patience;
import org.scenespan.trigger.Profile;
import org.scenespan.trigger.Profiles;
import org.scenespan.wire.JournalRecord;

/** A long simulated lapse: what each thousand of its frames costs in time, and what it holds. */
final class LapseLength {
  private static final int STEP = 1000;

  private final StringBuilder rows = new StringBuilder();
  private int frames;
  private long since = System.nanoTime();

  private LapseLength() {}

  static String measured(int frames) throws IOException, InterruptedException {
    Path work = Files.createTempDirectory("lapse-length");
    try {
      return new LapseLength().run(work, frames);
    } finally {
      try (Stream<Path> all = Files.walk(work)) {
        for (Path file : all.sorted((one, other) -> other.compareTo(one)).toList()) {
          Files.delete(file);
        }
      }
    }
  }

  private String run(Path work, int count) throws IOException, InterruptedException {
    Path light = work.resolve("light.csv");
    Files.writeString(light, "seconds,ev\n0,2\n" + 10L * count + ",14\n");
    Profile profile = new Profiles(Optional.empty()).load("reference-trigger");
    Gear.Light curve =
        new Gear.Light(Optional.of(light.toString()), Optional.empty(), false, Stops.ZERO);
    Gear.Rehearsal rehearsal =
        new Gear.Rehearsal("light", new Ev(0), 1, false, Stops.ZERO, Optional.of(curve));
    try (OpenedSession session =
        OpenedSession.fresh(
            new Sessions(work.resolve("sessions")),
            "long",
            Optional.of(profile),
            name ->
                new LapseSetup(
                    name,
                    "bench",
                    new Gear("reference-trigger", "", "frames", false, Optional.of(rehearsal)),
                    profile.cameraRange(),
                    PictureLimits.at(Aperture.parse("f/2.8")).withHighestIso(Iso.parse("3200")),
                    new LapseSetup.Cadence(Duration.ofSeconds(10), Duration.ofSeconds(1), count),
                    Region.WHOLE,
                    Wish.usual(),
                    Optional.of(new Ev(2)),
                    Optional.empty(),
                    Patience.USUAL))) {
      since = System.nanoTime();
      session.run(false, List.of(this::told));
    }
    return String.format(
        Locale.ROOT,
        """
        ## A long lapse

        A simulated lapse of %d frames in virtual time: how long each thousand took (the camera and its
        frames are made in the same program), and what the program holds after a collection of garbage.

        | frames | ms a frame | heap, MB |
        | --- | --- | --- |
        %s""",
        count,
        rows);
  }

  private void told(List<JournalRecord> records) {
    for (JournalRecord record : records) {
      if (record.event() instanceof Event.FrameMatched && ++frames % STEP == 0) {
        double perFrame = (System.nanoTime() - since) / 1e6 / STEP;
        System.gc();
        Runtime runtime = Runtime.getRuntime();
        double heap = (runtime.totalMemory() - runtime.freeMemory()) / 1e6;
        rows.append(String.format(Locale.ROOT, "| %d | %.2f | %.1f |%n", frames, perFrame, heap));
        since = System.nanoTime();
      }
    }
  }
}

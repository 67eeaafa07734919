package org.scenespan.bench;

import java.io.IOException;
import java.lang.management.ManagementFactory;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Stream;
import org.scenespan.control.OpenedSession;
import org.scenespan.dashboard.Dashboard;
import org.scenespan.dashboard.LapseOpening;
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

/**
 * A long simulated lapse: what each thousand of its frames costs in time, what it holds, and how
 * long its page takes to open at the end of them.
 */
final class LapseLength {
  private static final int STEP = 1000;

  /** Places beyond those that are measured: the page is opened in the middle of a lapse. */
  private static final int MORE = 20;

  private final StringBuilder rows = new StringBuilder();
  private final int count;
  private int frames;
  private long since = System.nanoTime();
  private long processor = processor();
  private String last = "";
  private Optional<String> opening = Optional.empty();

  private LapseLength(int count) {
    this.count = count;
  }

  static String measured(int frames) throws IOException, InterruptedException {
    Path work = Files.createTempDirectory("lapse-length");
    try {
      return new LapseLength(frames).run(work);
    } finally {
      try (Stream<Path> all = Files.walk(work)) {
        for (Path file : all.sorted((one, other) -> other.compareTo(one)).toList()) {
          Files.delete(file);
        }
      }
    }
  }

  private String run(Path work) throws IOException, InterruptedException {
    Path light = work.resolve("light.csv");
    Files.writeString(light, "seconds,ev\n0,2\n" + 10L * (count + MORE) + ",14\n");
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
                        new LapseSetup.Cadence(
                            Duration.ofSeconds(10), Duration.ofSeconds(1), count + MORE),
                        Region.WHOLE,
                        Wish.usual(),
                        Optional.of(new Ev(2)),
                        Optional.empty(),
                        Patience.USUAL));
        Dashboard page = session.dashboard(0)) {
      mark();
      session.run(false, List.of(records -> told(records, page)));
    }
    return String.format(
        Locale.ROOT,
        """
        ## A long lapse

        A simulated lapse of %d frames in virtual time: how long each thousand took, what of the
        processors that was, all threads together (the camera and its frames are made in the same
        program), and what the program holds after a collection of garbage.

        | frames | ms a frame | processor ms a frame | heap, MB |
        | --- | --- | --- | --- |
        %s%s""",
        count,
        rows,
        opening.orElse(""));
  }

  private static long processor() {
    return ManagementFactory.getPlatformMXBean(com.sun.management.OperatingSystemMXBean.class)
        .getProcessCpuTime();
  }

  private void mark() {
    since = System.nanoTime();
    processor = processor();
  }

  private void told(List<JournalRecord> records, Dashboard page) {
    for (JournalRecord record : records) {
      if (record.event() instanceof Event.FrameMatched matched) {
        last = matched.frame().file();
        if (++frames % STEP == 0) {
          row();
        }
      } else if (frames >= count && opening.isEmpty()) {
        // What was told before this is on the page by now; the session waits meanwhile.
        opening = Optional.of(opened(page));
      }
    }
  }

  private void row() {
    double perFrame = (System.nanoTime() - since) / 1e6 / STEP;
    double processors = (processor() - processor) / 1e6 / STEP;
    System.gc();
    Runtime runtime = Runtime.getRuntime();
    double heap = (runtime.totalMemory() - runtime.freeMemory()) / 1e6;
    rows.append(
        String.format(
            Locale.ROOT, "| %d | %.2f | %.2f | %.1f |%n", frames, perFrame, processors, heap));
    mark();
  }

  private String opened(Dashboard page) {
    try {
      return LapseOpening.measured(page, count, last);
    } catch (Exception failed) {
      throw new IllegalStateException("the page does not open", failed);
    }
  }
}

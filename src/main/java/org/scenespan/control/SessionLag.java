package org.scenespan.control;

import java.io.IOException;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.scenespan.frame.CameraLag;
import org.scenespan.frame.CaptureTime;
import org.scenespan.frame.FrameReading;
import org.scenespan.journal.JournalReading;
import org.scenespan.journal.Sessions;
import org.scenespan.light.Exposure;
import org.scenespan.session.Event;
import org.scenespan.wire.JournalRecord;

/** How long frames took, from the journals of sessions that fired by a trigger. */
public final class SessionLag {
  private static final double SLOWEST_SHARE = 0.95;

  private final List<Double> files = new ArrayList<>();
  private final List<List<Double>> captures = new ArrayList<>();
  private Optional<String> camera = Optional.empty();

  private SessionLag() {}

  /**
   * What the sessions tell.
   *
   * @param camera that took their frames, as these name it
   */
  public record Found(Optional<String> camera, CameraLag lag) {}

  /**
   * @throws IllegalArgumentException in one line, if a session has no frame that answers a command,
   *     or they are of several cameras
   */
  public static Found of(Sessions sessions, List<String> names) throws IOException {
    SessionLag lag = new SessionLag();
    for (String name : names) {
      int before = lag.files.size();
      lag.read(JournalReading.of(sessions.find(name)));
      if (lag.files.size() == before) {
        throw new IllegalArgumentException(
            "session \""
                + name
                + "\" tells no lag: none of its frames answers a trigger's command");
      }
    }
    return new Found(lag.camera, lag.found());
  }

  private void read(JournalReading reading) {
    Map<Integer, Instant> commanded = new HashMap<>();
    List<Double> session = new ArrayList<>();
    if (reading.state().opened().gear().hand().isPresent()) {
      return;
    }
    for (JournalRecord record : reading.records()) {
      if (record.event() instanceof Event.ShotCommanded shot) {
        commanded.put(shot.shot(), record.at());
      } else if (record.event() instanceof Event.FrameAccepted frame && !frame.late()) {
        Optional.ofNullable(commanded.remove(frame.shot()))
            .ifPresent(from -> take(from, record.at(), frame.exposure(), frame.frame(), session));
      } else if (record.event() instanceof Event.FrameMatched frame) {
        Optional<Exposure> exposure = frame.frame().metadata().exposure();
        Instant from = commanded.remove(frame.shot());
        if (from != null && exposure.isPresent()) {
          take(from, record.at(), exposure.get(), frame.frame(), session);
        }
      }
    }
    captures.add(session);
  }

  private void take(
      Instant from, Instant to, Exposure exposure, FrameReading frame, List<Double> session) {
    double lag = seconds(from, to) - exposure.shutter().seconds();
    if (lag < 0) {
      return;
    }
    files.add(lag);
    Optional<String> by = frame.metadata().camera();
    if (camera.isPresent() && by.isPresent() && !camera.equals(by)) {
      throw new IllegalArgumentException(
          "the sessions are of several cameras: " + camera.get() + ", " + by.get());
    }
    camera = camera.or(() -> by);
    frame
        .metadata()
        .capturedAt()
        .filter(CaptureTime::subSeconds)
        .ifPresent(taken -> session.add(seconds(from, taken.asInstant())));
  }

  private static double seconds(Instant from, Instant to) {
    return Duration.between(from, to).toNanos() / 1e9;
  }

  private CameraLag found() {
    double[] sorted = files.stream().mapToDouble(Double::doubleValue).sorted().toArray();
    int slowest = Math.min(sorted.length - 1, (int) (SLOWEST_SHARE * sorted.length));
    return new CameraLag(sorted.length, sorted[sorted.length / 2], sorted[slowest], spread());
  }

  /** Within each session: its clock is ahead by one amount, which cancels. */
  private Optional<Double> spread() {
    double squares = 0;
    int freedom = 0;
    for (List<Double> session : captures) {
      double mean = session.stream().mapToDouble(Double::doubleValue).average().orElse(0);
      squares += session.stream().mapToDouble(lag -> (lag - mean) * (lag - mean)).sum();
      freedom += Math.max(0, session.size() - 1);
    }
    return freedom < 2 ? Optional.empty() : Optional.of(Math.sqrt(squares / freedom));
  }
}

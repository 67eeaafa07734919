package org.scenespan.dashboard;

import java.nio.file.Files;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.Optional;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import org.scenespan.frame.Patch;
import org.scenespan.session.Mark;

/**
 * For looking at the page while working on it: serves the sample journal as if it were happening.
 * Arguments: port (default free), milliseconds between records (default 700). Files of the page are
 * those on the class path: run it again after {@code mvn process-resources}.
 */
final class SampleRun implements Acts {
  private final GrowingRecords records = new GrowingRecords();
  private final Deque<String> left = new ArrayDeque<>();
  private boolean held;

  private SampleRun(Iterable<String> lines) {
    lines.forEach(left::add);
  }

  public static void main(String[] args) throws Exception {
    int port = args.length > 0 ? Integer.parseInt(args[0]) : 0;
    long pause = args.length > 1 ? Long.parseLong(args[1]) : 700;
    SampleRun run = new SampleRun(Files.readAllLines(RidgeSample.JOURNAL));
    ScheduledExecutorService clock = Executors.newSingleThreadScheduledExecutor();
    try (Dashboard dashboard = new Dashboard(port, run.records, run, new RidgeScene())) {
      System.out.println(dashboard.address());
      clock.scheduleAtFixedRate(run::next, pause, pause, TimeUnit.MILLISECONDS);
      new CountDownLatch(1).await();
    } finally {
      clock.shutdownNow();
    }
  }

  /** Numbers are given anew: what was asked for lies between the sample's own records. */
  private synchronized void next() {
    if (!held && !left.isEmpty()) {
      String line = left.remove();
      records.append(line.replaceFirst("\"seq\":\\d+", "\"seq\":" + (records.since(0).size() + 1)));
    }
  }

  @Override
  public synchronized void hold() {
    held = true;
    records.append("session-held", "");
  }

  @Override
  public synchronized void goOn() {
    held = false;
    records.append("session-continued", "");
  }

  @Override
  public void reference(String file, Optional<Patch> patch) {
    // The sample is a bracket.
  }

  @Override
  public void mark(String file, Mark mark, String note) {
    // The sample is a bracket.
  }

  @Override
  public synchronized void stop() {
    left.clear();
    records.append(
        "report",
        "\"kind\":\"bracket\",\"covered\":false,\"stopped\":\"asked\",\"why\":\"Ended as asked.\","
            + "\"openAboveStops\":0.0,\"openBelowStops\":0.0,\"elapsedSeconds\":12.0");
  }
}

package org.scenespan.bench;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.lang.management.ManagementFactory;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.InstantSource;
import java.util.Arrays;
import java.util.HashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import org.scenespan.light.Aperture;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;
import org.scenespan.rehearsal.PseudoTerminal;
import org.scenespan.session.Input;
import org.scenespan.trigger.Order;
import org.scenespan.trigger.Profile;
import org.scenespan.trigger.Profiles;
import org.scenespan.trigger.SerialTriggerPort;
import org.scenespan.trigger.TriggerEdge;

/**
 * Measures how late the first byte of a timed command is on a pseudo-terminal, against the instant
 * at which it was due by the monotonic clock, beside a bare timer loop in the same run: the two
 * take turns, half an interval apart. The wait, the trigger's thread, its dialogue and the serial
 * library are the real ones. A third turn is a timer loop and the same hand-overs from thread to
 * thread with nothing done in them: what the system takes for these. Then ten thousand frames of a
 * simulated lapse: time and memory for each thousand, and its page. Arguments: the file to write,
 * intervals (10 000), frames (10 000).
 */
public final class TimingBench {
  /** Short, so that ten thousand take less than nine minutes. */
  private static final long INTERVAL_NANOS = 50_000_000;

  /** Not counted: the virtual machine compiles the way. */
  private static final int WARM_UP = 200;

  private static final Exposure EXPOSURE =
      new Exposure(Shutter.ofNominal(1.0 / 1000), Aperture.ofNominal(8), Iso.ofNominal(100));

  /**
   * From the timer to the trigger's thread, from there to the one that writes, and from the line to
   * the device's.
   */
  private static final int HAND_OVERS = 3;

  private final int intervals;
  private final double[] command;
  private final double[] bare;
  private final double[] handed;
  private final BlockingQueue<Input> inbox = new LinkedBlockingQueue<>();
  private volatile int index;
  private volatile long due;
  private boolean free = true;

  private TimingBench(int intervals) {
    this.intervals = intervals;
    this.command = new double[intervals];
    this.bare = new double[intervals];
    this.handed = new double[intervals];
    Arrays.fill(command, Double.NaN);
  }

  public static void main(String[] words) throws Exception {
    int intervals = words.length > 1 ? Integer.parseInt(words[1]) : 10_000;
    int frames = words.length > 2 ? Integer.parseInt(words[2]) : 10_000;
    String load = load();
    TimingBench bench = new TimingBench(intervals);
    bench.run();
    String text = bench.text(load) + LapseLength.measured(frames);
    Files.writeString(Path.of(words[0]), text);
    System.out.println(text);
  }

  private static String load() {
    double load = ManagementFactory.getOperatingSystemMXBean().getSystemLoadAverage();
    int processors = Runtime.getRuntime().availableProcessors();
    return String.format(Locale.ROOT, "load average %.1f on %d processors", load, processors);
  }

  private void run() throws Exception {
    Profile profile = profile();
    long zero = System.nanoTime();
    Instant epoch = Instant.now();
    InstantSource clock = () -> epoch.plusNanos(System.nanoTime() - zero);
    try (PseudoTerminal terminal = PseudoTerminal.open()) {
      Thread device = new Thread(() -> answer(terminal), "device");
      device.setDaemon(true);
      device.start();
      BlockingQueue<Turn> first = handOvers();
      try (TriggerEdge edge =
          TriggerEdge.open(
              profile,
              () -> SerialTriggerPort.open(terminal.slave().toString(), profile.line()),
              clock,
              inbox::add)) {
        edge.perform(new Order.Greet());
        inbox.poll(10, TimeUnit.SECONDS);
        long start = System.nanoTime() + INTERVAL_NANOS;
        for (int i = -WARM_UP; i < intervals; i++) {
          long at = start + (i + WARM_UP) * INTERVAL_NANOS;
          await(at);
          if (free) {
            index = i;
            due = at;
            free = false;
            edge.perform(new Order.Fire(i + WARM_UP + 1, EXPOSURE));
          }
          long half = at + INTERVAL_NANOS / 2;
          await(half);
          if (i >= 0) {
            bare[i] = (System.nanoTime() - half) / 1e6;
          }
          long late = at + INTERVAL_NANOS * 3 / 4;
          await(late);
          first.add(new Turn(i, late));
        }
        await(System.nanoTime() + 10 * INTERVAL_NANOS);
      }
    }
  }

  /** An interval, and when its last turn is due. */
  private record Turn(int index, long due) {}

  /** A chain of threads that do nothing but hand on; the last one notes how late it is. */
  private BlockingQueue<Turn> handOvers() {
    BlockingQueue<Turn> first = new LinkedBlockingQueue<>();
    BlockingQueue<Turn> from = first;
    for (int i = 0; i < HAND_OVERS; i++) {
      BlockingQueue<Turn> here = from;
      BlockingQueue<Turn> next = new LinkedBlockingQueue<>();
      boolean last = i == HAND_OVERS - 1;
      Thread thread = new Thread(() -> handOn(here, last ? Optional.empty() : Optional.of(next)));
      thread.setDaemon(true);
      thread.start();
      from = next;
    }
    return first;
  }

  private void handOn(BlockingQueue<Turn> from, Optional<BlockingQueue<Turn>> to) {
    try {
      while (true) {
        Turn turn = from.take();
        if (to.isPresent()) {
          to.get().add(turn);
        } else if (turn.index() >= 0) {
          handed[turn.index()] = (System.nanoTime() - turn.due()) / 1e6;
        }
      }
    } catch (InterruptedException over) {
      Thread.currentThread().interrupt();
    }
  }

  /** The reference trigger's, with a camera that has no lag: its dialogue fits the interval. */
  private static Profile profile() throws IOException {
    String text = Files.readString(Path.of("device-profiles/reference-trigger.json"));
    String quick = text.replaceFirst("\"releaseLagMillis\": \\d+", "\"releaseLagMillis\": 0");
    Path file = Files.createTempFile("quick", ".json");
    try {
      Files.writeString(file, quick);
      return new Profiles(Optional.empty()).load(file.toString());
    } finally {
      Files.delete(file);
    }
  }

  /** As a session waits: what comes in meanwhile is taken. */
  private void await(long at) throws InterruptedException {
    for (long left = at - System.nanoTime(); left > 0; left = at - System.nanoTime()) {
      free |= inbox.poll(left, TimeUnit.NANOSECONDS) != null;
    }
  }

  /** The device's end: notes when the first byte after a due instant comes, and answers. */
  private void answer(PseudoTerminal terminal) {
    byte[] buffer = new byte[512];
    StringBuilder line = new StringBuilder();
    Map<String, String> set = new HashMap<>();
    try {
      InputStream in = terminal.input();
      OutputStream out = terminal.output();
      for (int count = in.read(buffer); count >= 0; count = in.read(buffer)) {
        long now = System.nanoTime();
        if (due != 0) {
          if (index >= 0) {
            command[index] = (now - due) / 1e6;
          }
          due = 0;
        }
        for (int i = 0; i < count; i++) {
          if (buffer[i] != '\n') {
            line.append((char) buffer[i]);
            continue;
          }
          String[] parts = line.toString().split(" ", 2);
          line.setLength(0);
          if (parts.length == 2) {
            set.put(parts[0], parts[1]);
          }
          String reply =
              switch (parts[0]) {
                case "*IDN?" -> "SCENESPAN,REFERENCE TRIGGER,0,1.0";
                case "SYSTem:ERRor?" -> "0,\"No error\"";
                case "EXPosure:TIME?" -> set.get("EXPosure:TIME");
                case "EXPosure:ISO?" -> set.get("EXPosure:ISO");
                case "EXPosure:APERture?" -> set.get("EXPosure:APERture");
                case "TRIGger:DONE?" -> set.get("TRIGger:RELease");
                default -> "";
              };
          if (!reply.isEmpty()) {
            out.write((reply + "\n").getBytes(StandardCharsets.US_ASCII));
            out.flush();
          }
        }
      }
    } catch (IOException pulled) {
      // The bench is over.
    }
  }

  private String text(String load) {
    return String.format(
        Locale.ROOT,
        """
        # How exactly a lapse keeps its time

        `mvn -q -Pbench-timing test-compile exec:exec` rewrites this page (`-Dintervals=N -Dframes=N` for
        fewer). %d intervals of %d ms by the monotonic clock: how late the command's first byte is at the
        other end of a pseudo-terminal, and beside it, half an interval later in the same run, how late a
        bare timer loop is, and a quarter after that, one that hands on as often as the command is: %d
        times from thread to thread, with nothing done in between.
        Java %s, %s at the beginning.

        | ms | median | 99 %% | largest | drift over all | not seen |
        | --- | --- | --- | --- | --- | --- |
        %s%s%s
        The shot is chosen, and its record on disk, before it is due: between the timer and the byte there
        are only these hand-overs (to the trigger's thread, to the one that may be left behind in a write,
        to the device's that reads), and the first step of the dialogue. Drift is the median of the last
        tenth less that of the first. The goal is 2 ms at 99 %% on a machine that does nothing else. A
        command is not seen where the dialogue before it was not over.

        """,
        intervals,
        INTERVAL_NANOS / 1_000_000,
        HAND_OVERS,
        System.getProperty("java.version"),
        load,
        row("the command's first byte", command),
        row("a bare timer loop", bare),
        row("a bare timer loop and as many hand-overs", handed));
  }

  private static String row(String what, double[] late) {
    double[] seen = Arrays.stream(late).filter(value -> !Double.isNaN(value)).toArray();
    double[] sorted = seen.clone();
    Arrays.sort(sorted);
    int tenth = Math.max(1, seen.length / 10);
    double drift =
        median(Arrays.copyOfRange(seen, seen.length - tenth, seen.length))
            - median(Arrays.copyOf(seen, tenth));
    return String.format(
        Locale.ROOT,
        "| %s | %.3f | %.3f | %.3f | %+.3f | %d |%n",
        what,
        median(sorted),
        sorted[(int) (0.99 * (sorted.length - 1))],
        sorted[sorted.length - 1],
        drift,
        late.length - seen.length);
  }

  private static double median(double[] values) {
    double[] sorted = values.clone();
    Arrays.sort(sorted);
    return sorted[sorted.length / 2];
  }
}

package org.scenespan.bench;

import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.lang.management.ManagementFactory;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.scenespan.control.BenchRun;
import org.scenespan.folder.HotFolder;
import org.scenespan.trigger.TriggerPort;

/**
 * Measures the time from a frame's file being complete in the hot folder to the first byte of the
 * next decision at the trigger's port: the real folder watch, reading, previews, session, journal
 * and trigger dialogue; only the trigger and the camera are made of software, in this process.
 * Between two frames djpeg decodes the same file. Arguments: the file to write, frames (default
 * 24).
 */
public final class WireBench {
  /** From the end of a release to the camera's file, so that its dialogue is over. */
  private static final long CAMERA_MILLIS = 300;

  private final Path frame;
  private final Path work;
  private final List<Double> delays = new ArrayList<>();
  private final List<Double> decodes = new ArrayList<>();
  private double first;

  private WireBench(Path frame, Path work) {
    this.frame = frame;
    this.work = work;
  }

  public static void main(String[] arguments) throws Exception {
    Path table = Path.of(arguments[0]);
    int frames = arguments.length > 1 ? Integer.parseInt(arguments[1]) : 24;
    Path work = Files.createTempDirectory("wire-bench");
    try {
      Path frame = work.resolve("frame.jpg");
      JpegBench.write24(frame);
      WireBench bench = new WireBench(frame, work);
      bench.session(0);
      bench.first = bench.delays.get(0);
      bench.delays.clear();
      bench.decodes.clear();
      for (int session = 1; bench.delays.size() < frames; session++) {
        bench.session(session);
      }
      String text = bench.text();
      Files.writeString(table, text);
      System.out.println(text);
    } finally {
      try (Stream<Path> all = Files.walk(work)) {
        for (Path file : all.sorted((one, other) -> other.compareTo(one)).toList()) {
          Files.delete(file);
        }
      }
    }
  }

  private void session(int number) throws Exception {
    Path folder = Files.createDirectory(work.resolve("frames-" + number));
    try (Trigger trigger = new Trigger(folder)) {
      BenchRun.run(work.resolve("sessions-" + number), folder, () -> trigger);
    }
  }

  /** The least of a trigger of the shipped profile, with the camera behind it. */
  private final class Trigger implements TriggerPort {
    private final Path folder;
    private final LinkedBlockingQueue<byte[]> replies = new LinkedBlockingQueue<>();
    private final StringBuilder line = new StringBuilder();
    private final ExecutorService camera = Executors.newSingleThreadExecutor();
    private volatile long completeAt;
    private String seconds = "1";
    private String iso = "100";
    private String aperture = "8";
    private String released = "0";

    Trigger(Path folder) {
      this.folder = folder;
    }

    @Override
    public int read(byte[] buffer) {
      try {
        byte[] reply = replies.poll(250, TimeUnit.MILLISECONDS);
        if (reply == null) {
          return 0;
        }
        System.arraycopy(reply, 0, buffer, 0, reply.length);
        return reply.length;
      } catch (InterruptedException stop) {
        Thread.currentThread().interrupt();
        return GONE;
      }
    }

    @Override
    public void write(byte[] bytes) {
      long now = System.nanoTime();
      if (completeAt != 0) {
        delays.add((now - completeAt) / 1e6);
        completeAt = 0;
      }
      for (byte value : bytes) {
        if (value == '\n') {
          answer(line.toString());
          line.setLength(0);
        } else {
          line.append((char) value);
        }
      }
    }

    private void answer(String command) {
      String[] parts = command.split(" ", 2);
      switch (parts[0]) {
        case "*IDN?" -> reply("SCENESPAN,REFERENCE TRIGGER,0,1.0");
        case "SYSTem:ERRor?" -> reply("0,\"No error\"");
        case "EXPosure:TIME?" -> reply(seconds);
        case "EXPosure:ISO?" -> reply(iso);
        case "EXPosure:APERture?" -> reply(aperture);
        case "TRIGger:DONE?" -> reply(released);
        case "METer:EV?" -> reply("12.00");
        case "EXPosure:TIME" -> seconds = parts[1];
        case "EXPosure:ISO" -> iso = parts[1];
        case "EXPosure:APERture" -> aperture = parts[1];
        case "TRIGger:RELease" -> {
          released = parts[1];
          String name = "SCN_" + released + ".JPG";
          camera.execute(() -> take(name));
        }
        default -> {} // Nothing that the dialogue waits for.
      }
    }

    private void reply(String text) {
      replies.add((text + "\n").getBytes(StandardCharsets.US_ASCII));
    }

    /** Writes the file as a card reader does, piece by piece under its own name. */
    private void take(String name) {
      try {
        long start = System.nanoTime();
        decodes.add(djpeg());
        byte[] bytes = Files.readAllBytes(frame);
        long rest = CAMERA_MILLIS - (System.nanoTime() - start) / 1_000_000;
        TimeUnit.MILLISECONDS.sleep(Math.max(0, rest));
        try (OutputStream out =
            Files.newOutputStream(folder.resolve(name), StandardOpenOption.CREATE_NEW)) {
          for (int at = 0; at < bytes.length; at += 1 << 18) {
            out.write(bytes, at, Math.min(1 << 18, bytes.length - at));
          }
        }
        completeAt = System.nanoTime();
      } catch (IOException e) {
        throw new UncheckedIOException(e);
      } catch (InterruptedException stop) {
        Thread.currentThread().interrupt();
      }
    }

    private double djpeg() throws IOException, InterruptedException {
      long start = System.nanoTime();
      Process process =
          new ProcessBuilder("djpeg", "-outfile", "/dev/null", frame.toString()).start();
      if (process.waitFor() != 0) {
        throw new IOException("djpeg fails");
      }
      return (System.nanoTime() - start) / 1e6;
    }

    @Override
    public void close() {
      camera.shutdownNow();
    }
  }

  private String text() throws IOException {
    double quiet = HotFolder.QUIET.toMillis();
    double[] ours = sorted(delays);
    double[] theirs = sorted(decodes);
    double goal = quiet + at(theirs, 0.95);
    return String.format(
        Locale.ROOT,
        """
        # From the file in the folder to the byte on the wire: how long it takes

        Made by `mvn -q -Pbench-wire test-compile exec:exec`. A bracket runs in real time over a
        real folder; a trigger and a camera made of software stand at its port, in the same
        process. The clock runs from the moment the camera closes its file (24 megapixels, 4:2:2,
        %.1f MB, written in pieces) to the first byte of the next decision at the port: noticing,
        quiet time (%.0f ms), reading, preview and clip mask on disk, decision and journal on disk.
        Between frames `djpeg` decodes the same file, pixels thrown away. %d frames.

        | | p50, ms | p95, ms | worst, ms |
        | --- | --- | --- | --- |
        | file complete to byte on the wire | %.0f | %.0f | %.0f |
        | `djpeg` alone | %.0f | %.0f | %.0f |

        The first frame of the process, which is not among them: %.0f ms.

        Goal: quiet time and once `djpeg`, p95: %.0f ms. Measured: %.0f ms, %s.

        Machine: %d processors, Java %s (%s); load average %.1f when it ended.
        """,
        Files.size(frame) / 1e6,
        quiet,
        ours.length,
        at(ours, 0.5),
        at(ours, 0.95),
        at(ours, 1),
        at(theirs, 0.5),
        at(theirs, 0.95),
        at(theirs, 1),
        first,
        goal,
        at(ours, 0.95),
        at(ours, 0.95) <= goal ? "reached" : "missed",
        Runtime.getRuntime().availableProcessors(),
        System.getProperty("java.version"),
        System.getProperty("java.vendor"),
        ManagementFactory.getOperatingSystemMXBean().getSystemLoadAverage());
  }

  private static double[] sorted(List<Double> values) {
    double[] sorted = values.stream().mapToDouble(Double::doubleValue).toArray();
    Arrays.sort(sorted);
    return sorted;
  }

  /** The least value that a share of all does not exceed. */
  private static double at(double[] sorted, double share) {
    return sorted[(int) Math.max(0, Math.ceil(share * sorted.length) - 1)];
  }
}

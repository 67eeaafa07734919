package org.scenespan.dashboard;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.lang.management.ManagementFactory;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Random;
import java.util.stream.Stream;
import org.openqa.selenium.By;
import org.openqa.selenium.Keys;
import org.scenespan.control.OpenedSession;
import org.scenespan.folder.HotFolder;
import org.scenespan.journal.Sessions;
import org.scenespan.plan.guard.Levels;
import org.scenespan.session.Gear;
import org.scenespan.session.Input;
import org.scenespan.session.Patience;
import org.scenespan.session.TetherSetup;

/**
 * Measures a tether as its user has it: from the last byte of a frame in the hot folder to its
 * alarm on the page in a real browser, with {@code djpeg} decoding the same file between frames;
 * and the page with two thousand frames, while its strip is scrolled. Arguments: the file to write,
 * frames (default 60).
 */
public final class TetherBench {
  private static final int WIDTH = 6000;
  private static final int HEIGHT = 4000;

  /** Stops under the reference frame: each frame is an alarm, whatever came before. */
  private static final double DARKER = -0.6;

  private static final int MANY = 2_000;

  /**
   * A task takes longer where other programs take the processor; the page's own are long each time.
   */
  private static final int GOES = 4;

  private static final double GOAL_MILLIS = 1_000;
  private static final double GOAL_TASK_MILLIS = 100;

  private final Path work;
  private final List<Double> delays = new ArrayList<>();
  private final List<Double> read = new ArrayList<>();
  private final List<Double> decodes = new ArrayList<>();
  private double loadAtAlarms;
  private double processorMillis;
  private final List<Double> longestAtWork = new ArrayList<>();
  private double longestAtScroll;
  private double[] frameTimes = {};

  private TetherBench(Path work) {
    this.work = work;
  }

  public static void main(String[] arguments) throws Exception {
    int frames = arguments.length > 1 ? Integer.parseInt(arguments[1]) : 60;
    Path work = Files.createTempDirectory("tether-bench");
    try (Browser browser = new Browser(work.resolve("profile"))) {
      TetherBench bench = new TetherBench(work);
      browser.resize(1280, 800);
      bench.many(browser);
      bench.alarms(browser, frames);
      String text = bench.text();
      Files.writeString(Path.of(arguments[0]), text);
      System.out.println(text);
    } finally {
      try (Stream<Path> all = Files.walk(work)) {
        for (Path file : all.sorted((one, other) -> other.compareTo(one)).toList()) {
          Files.delete(file);
        }
      }
    }
  }

  /** Every frame is landed when the one before has been told for a second. */
  private void alarms(Browser browser, int frames) throws Exception {
    Path folder = Files.createDirectory(work.resolve("frames"));
    byte[] bright = frame("bright.jpg", 0);
    byte[] dark = frame("dark.jpg", DARKER);
    Gear gear = new Gear("", "", folder.toString(), false, Optional.empty());
    try (OpenedSession session =
            OpenedSession.fresh(
                new Sessions(work.resolve("sessions")),
                "bench",
                Optional.empty(),
                name ->
                    new TetherSetup(
                        name,
                        "bench",
                        gear,
                        Levels.USUAL,
                        true,
                        0,
                        Optional.empty(),
                        Patience.USUAL));
        Dashboard dashboard = session.dashboard(0)) {
      double[] toldAt = new double[1];
      Thread running =
          new Thread(
              () -> {
                try {
                  session.run(true, List.of(records -> toldAt[0] = wall()));
                } catch (IOException | InterruptedException failed) {
                  throw new IllegalStateException(failed);
                }
              });
      running.start();
      browser.open(dashboard.address());
      browser.run("localStorage.setItem('scenespan-sound', 'off')");
      browser.open(dashboard.address());
      browser.run(
          "const words = document.getElementById('missed-words'); window.told = {};"
              + "new MutationObserver(() => { const name = words.textContent.match(/F_\\d+/)?.[0];"
              + "window.told[name] ??= performance.timeOrigin + performance.now(); })"
              + ".observe(words, {childList: true, characterData: true, subtree: true})");
      land(folder, "F_0000.JPG", bright);
      browser.await(
          "the reference", () -> browser.text(By.id("look-file")).startsWith("F_0000.JPG"));
      long before = processor();
      for (int i = 1; i <= frames; i++) {
        decodes.add(djpeg(work.resolve("dark.jpg")));
        String name = String.format(Locale.ROOT, "F_%04d", i);
        double landed = land(folder, name + ".JPG", dark);
        browser.await(name, () -> browser.run("return window.told[arguments[0]]", name) != null);
        double told =
            ((Number) browser.run("return window.told[arguments[0]]", name)).doubleValue();
        delays.add(told - landed);
        read.add(toldAt[0] - landed);
      }
      processorMillis = (processor() - before) / 1e6 / frames;
      loadAtAlarms = load();
      session.ask(new Input.StopAsked());
      running.join();
    }
  }

  private byte[] frame(String name, double stops) throws IOException, InterruptedException {
    Path file = work.resolve(name);
    Process coder =
        new ProcessBuilder("cjpeg", "-quality", "95", "-outfile", file.toString()).start();
    Random random = new Random(4);
    double gain = Math.pow(2, stops / 2.2);
    try (OutputStream out = new BufferedOutputStream(coder.getOutputStream(), 1 << 16)) {
      out.write(("P6 " + WIDTH + " " + HEIGHT + " 255\n").getBytes());
      byte[] row = new byte[3 * WIDTH];
      for (int y = 0; y < HEIGHT; y++) {
        for (int x = 0; x < WIDTH; x++) {
          double light =
              120
                  + 40 * Math.sin(x / 700.0) * Math.cos(y / 900.0)
                  + 20 * Math.sin(x * 0.7 + Math.sin(y / 31.0)) * Math.sin(y / 9.0);
          int grain = (random.nextInt() & 7) - 4;
          for (int c = 0; c < 3; c++) {
            row[3 * x + c] = (byte) Math.max(0, Math.min(255, (int) (gain * (light + grain))));
          }
        }
        out.write(row);
      }
    }
    if (coder.waitFor() != 0) {
      throw new IOException("cjpeg cannot code the frame");
    }
    return Files.readAllBytes(file);
  }

  /** Writes a file as a card reader does, piece by piece under its own name; when it was whole. */
  private static double land(Path folder, String name, byte[] bytes) throws IOException {
    try (OutputStream out =
        Files.newOutputStream(folder.resolve(name), StandardOpenOption.CREATE_NEW)) {
      for (int at = 0; at < bytes.length; at += 1 << 18) {
        out.write(bytes, at, Math.min(1 << 18, bytes.length - at));
      }
    }
    return wall();
  }

  /** Milliseconds of the clock that the browser has, too. */
  private static double wall() {
    Instant now = Instant.now();
    return now.getEpochSecond() * 1e3 + now.getNano() / 1e6;
  }

  private static double djpeg(Path file) throws IOException, InterruptedException {
    long start = System.nanoTime();
    Process process = new ProcessBuilder("djpeg", "-outfile", "/dev/null", file.toString()).start();
    if (process.waitFor() != 0) {
      throw new IOException("djpeg fails");
    }
    return (System.nanoTime() - start) / 1e6;
  }

  private void many(Browser browser) throws IOException {
    GrowingRecords records = new GrowingRecords();
    SampleTether tether = new SampleTether(records);
    for (int i = 0; i < MANY; i++) {
      tether.land(i % 97 == 50 ? -1.6 : 0.09 * Math.sin(i / 7.0));
    }
    byte[] preview = SampleTether.picture("preview").orElseThrow();
    byte[] mask = SampleTether.picture("mask-").orElseThrow();
    try (Dashboard dashboard =
        new Dashboard(
            0, records, tether, name -> Optional.of(name.startsWith("mask-") ? mask : preview))) {
      browser.open(dashboard.address());
      // A headless browser opens its sound device at the first key.
      browser.run("localStorage.setItem('scenespan-sound', 'off')");
      for (int go = 0; go < GOES; go++) {
        longestAtWork.add(workedThrough(browser, dashboard.address()));
      }
      browser.run(
          "window.long = [0]; window.times = []; const reel = document.getElementById('reel');"
              + "reel.scrollLeft = 0; let last = performance.now(), left = 300;"
              + "requestAnimationFrame(function step(now) { window.times.push(now - last);"
              + "last = now; reel.scrollLeft += 600; if (--left > 0) requestAnimationFrame(step); })");
      browser.await(
          "the scroll", () -> ((Number) browser.run("return times.length")).intValue() == 300);
      longestAtScroll = longest(browser);
      frameTimes =
          ((List<?>) browser.run("return window.times.slice(1)"))
              .stream().mapToDouble(each -> ((Number) each).doubleValue()).sorted().toArray();
    }
  }

  /** The longest task while all frames are replayed, gone along and filtered. */
  private static double workedThrough(Browser browser, String address) {
    browser.open(address);
    browser.run(
        "window.long = [0]; new PerformanceObserver(list => list.getEntries()"
            + ".forEach(e => window.long.push(e.duration)))"
            + ".observe({type: 'longtask', buffered: true})");
    browser.await("all frames", () -> browser.text(By.id("strip-told")).equals("2000 frames"));
    for (Keys key : List.of(Keys.HOME, Keys.PAGE_DOWN, Keys.ARROW_RIGHT, Keys.END)) {
      browser.all("#reel").get(0).sendKeys(key);
    }
    for (String choice : List.of("Alarmed", "Warned", "Kept", "All")) {
      browser.named("radio", choice).click();
    }
    browser.await("all again", () -> browser.text(By.id("strip-told")).equals("2000 frames"));
    return longest(browser);
  }

  private static double longest(Browser browser) {
    return ((Number) browser.run("return Math.max(...window.long)")).doubleValue();
  }

  private String text() throws IOException {
    double[] ours = sorted(delays);
    double[] journal = sorted(read);
    double[] theirs = sorted(decodes);
    return String.format(
        Locale.ROOT,
        """
        # The tether: from the file to the alarm, and two thousand frames

        Made by `mvn -q -Pbench-tether test-compile exec:java`, with Chromium as the page's browser.

        ## From the last byte to the alarm

        The program in real time over a real folder; the frames (24 megapixels, %.1f MB) are written
        in pieces under their own names, one when the one before was told. The clock runs from the
        last byte to the moment that the alarm's words stand in the page: noticing, quiet time
        (%d ms), reading, preview and clip mask, reference frame, journal on disk, event stream,
        browser. Between frames `djpeg` decodes the same file, pixels thrown away. %d frames.

        | | p50, ms | p95, ms | worst, ms |
        | --- | --- | --- | --- |
        | last byte to alarm on the page | %.0f | %.0f | %.0f |
        | of that: last byte to record on disk | %.0f | %.0f | %.0f |
        | `djpeg` alone | %.0f | %.0f | %.0f |

        Goal: p95 under %.0f ms: %s. Load average when it ended: %.1f. Of the processors the program takes
        %.0f ms a frame, all of its threads together.

        ## Two thousand frames

        The page replays them, is gone along by keys and filtered; then its strip is scrolled by 600
        pixels a frame of the screen, 300 times.

        | | |
        | --- | --- |
        | longest task while replayed, gone along and filtered, the worst of %d goes (all: %s) | %.0f ms |
        | longest task while scrolled | %s |
        | from one frame of the screen to the next, p50 / p95 / worst | %.0f / %.0f / %.0f ms |

        Goal: no task over %.0f ms: %s. The browser tells of tasks above 50 ms.

        Machine: %d processors, Java %s (%s).
        """,
        Files.size(work.resolve("dark.jpg")) / 1e6,
        HotFolder.QUIET.toMillis(),
        ours.length,
        at(ours, 0.5),
        at(ours, 0.95),
        at(ours, 1),
        at(journal, 0.5),
        at(journal, 0.95),
        at(journal, 1),
        at(theirs, 0.5),
        at(theirs, 0.95),
        at(theirs, 1),
        GOAL_MILLIS,
        at(ours, 0.95) < GOAL_MILLIS ? "reached" : "missed",
        loadAtAlarms,
        processorMillis,
        GOES,
        String.join(
            ", ",
            longestAtWork.stream().map(each -> String.format(Locale.ROOT, "%.0f", each)).toList()),
        Collections.max(longestAtWork),
        longestAtScroll == 0
            ? "none above 50 ms"
            : String.format(Locale.ROOT, "%.0f ms", longestAtScroll),
        at(frameTimes, 0.5),
        at(frameTimes, 0.95),
        at(frameTimes, 1),
        GOAL_TASK_MILLIS,
        Math.max(Collections.max(longestAtWork), longestAtScroll) <= GOAL_TASK_MILLIS
            ? "reached"
            : "missed",
        Runtime.getRuntime().availableProcessors(),
        System.getProperty("java.version"),
        System.getProperty("java.vendor"));
  }

  private static double load() {
    return ManagementFactory.getOperatingSystemMXBean().getSystemLoadAverage();
  }

  /** What this process has taken of the processors, nanoseconds. */
  private static long processor() {
    return ManagementFactory.getPlatformMXBean(com.sun.management.OperatingSystemMXBean.class)
        .getProcessCpuTime();
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

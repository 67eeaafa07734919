package org.scenespan.bench;

import com.sun.management.OperatingSystemMXBean;
import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.lang.management.ManagementFactory;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import java.util.concurrent.Callable;
import org.opencv.core.Core;
import org.opencv.core.Mat;
import org.opencv.core.MatOfFloat;
import org.opencv.core.MatOfInt;
import org.opencv.imgcodecs.Imgcodecs;
import org.opencv.imgproc.Imgproc;
import org.scenespan.folder.BenchReading;

/**
 * Measures the whole result of a JPEG (histograms, clip counts, sharpness, preview, clip mask)
 * against general-purpose programs and a library that decode the same file, interleaved in one run,
 * and writes a table. Argument: the file to write, rounds (default 7).
 *
 * <p>Frames are drawn by code and coded by cjpeg; djpeg, vips and OpenCV are the other side. Where
 * one is missing its column says so.
 */
public final class JpegBench {
  private static final String MISSING = "missing";

  private static final OperatingSystemMXBean PROCESS =
      (OperatingSystemMXBean) ManagementFactory.getOperatingSystemMXBean();

  private record Frame(String name, int width, int height, List<String> coding) {}

  private static final List<Frame> FRAMES =
      List.of(
          new Frame("24 MP, 4:2:2", 6000, 4000, List.of("-sample", "2x1")),
          new Frame("24 MP, 4:2:0", 6000, 4000, List.of("-sample", "2x2")),
          new Frame("24 MP, 4:4:4", 6000, 4000, List.of("-sample", "1x1")),
          new Frame(
              "24 MP, 4:2:2, restart markers",
              6000,
              4000,
              List.of("-sample", "2x1", "-restart", "1")),
          new Frame(
              "24 MP, 4:2:0, progressive", 6000, 4000, List.of("-sample", "2x2", "-progressive")),
          new Frame("45 MP, 4:2:2", 8256, 5504, List.of("-sample", "2x1")),
          new Frame("61 MP, 4:2:2", 9504, 6336, List.of("-sample", "2x1")));

  private static final List<String> SMALL_BOARD =
      List.of(
          "-Xmx16m",
          "-XX:+UseSerialGC",
          "-XX:TieredStopAtLevel=1",
          "-Xss256k",
          "-XX:ReservedCodeCacheSize=8m");

  private JpegBench() {}

  public static void main(String[] arguments) throws Exception {
    if (arguments.length > 0 && arguments[0].equals("alone")) {
      alone(Path.of(arguments[1]), Integer.parseInt(arguments[2]));
      return;
    }
    Path table = Path.of(arguments[0]);
    int rounds = arguments.length > 1 ? Integer.parseInt(arguments[1]) : 7;
    Path folder = Files.createTempDirectory("jpeg-bench");
    StringBuilder text = new StringBuilder(head(rounds));
    double loadBefore = load();
    try {
      Path big = null;
      List<String> oneCore = new ArrayList<>();
      for (Frame frame : FRAMES) {
        Path file = folder.resolve("frame.jpg");
        write(frame, file);
        text.append(row(frame, file, folder, rounds));
        System.out.print(text.substring(text.lastIndexOf("\n", text.length() - 2) + 1));
        if (frame == FRAMES.get(0)) {
          oneCore.add(oneCore(file, rounds));
        }
        big = file;
      }
      text.append("\n").append(oneCore.get(0)).append(memory(big)).append(littleMemory(big));
      text.append(
          String.format(
              Locale.ROOT,
              "%nThe machine's load (runnable tasks, mean of a minute) was %.1f before and %.1f after"
                  + " the run, whose own share is 1 to 2; what is above comes from others.%n",
              loadBefore,
              load()));
      Files.writeString(table, text);
      System.out.println(text);
    } finally {
      try (var files = Files.list(folder)) {
        for (Path file : files.toList()) {
          Files.delete(file);
        }
      }
      Files.delete(folder);
    }
  }

  private static String head(int rounds) throws IOException {
    String model = "unknown processor";
    Path cpu = Path.of("/proc/cpuinfo");
    if (Files.exists(cpu)) {
      model =
          Files.readAllLines(cpu).stream()
              .filter(line -> line.startsWith("model name"))
              .map(line -> line.substring(line.indexOf(':') + 1).strip())
              .findFirst()
              .orElse(model);
    }
    return String.format(
        Locale.ROOT,
        """
        # Reading JPEG frames: how long it takes

        Made by `mvn -q -Pbench-frames test-compile exec:exec`. The whole result of one frame (file
        read, histograms of every code, clip and crush counts, luminance, sharpness, Exif, preview
        of up to 1600 pixels and its clip mask in memory) against programs that only decode it
        (`djpeg`, pixels thrown away), or count and shrink it (`vips hist_find` and
        `vipsthumbnail -s 1600`, one after the other), start of the programs included, and
        against OpenCV's `imread` and a `calcHist` of each channel (%s, a build for
        general use without vector instructions of newer processors, in our own process and warm).
        Medians of %d rounds, all interleaved, the compiler warm.

        Machine: %d processors, %s, Java %s (%s).

        | frame | MB | ours, ms | plain path, ms | djpeg, ms | ours / djpeg | vips, ms | ours / vips | OpenCV, ms | ours / OpenCV |
        | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |
        """,
        openCv(),
        rounds,
        Runtime.getRuntime().availableProcessors(),
        model,
        System.getProperty("java.version"),
        System.getProperty("java.vendor"));
  }

  private static String row(Frame frame, Path file, Path folder, int rounds) throws Exception {
    BenchReading own = BenchReading.own();
    BenchReading plain = BenchReading.plain();
    for (int i = 0; i < 6; i++) {
      own.wholeResult(file);
      plain.wholeResult(file);
    }
    String name = file.toString();
    List<Callable<Double>> sides =
        List.of(
            () -> own(own, file),
            () -> own(plain, file),
            () -> run("djpeg", "-outfile", "/dev/null", name),
            () ->
                run("vips", "hist_find", name, folder.resolve("h.v").toString())
                    + run("vipsthumbnail", "-s", "1600", "-o", folder.resolve("t.jpg") + "", name),
            () -> openCvHistograms(name));
    double[][] times = new double[sides.size()][rounds];
    for (int round = 0; round < rounds; round++) {
      for (int side = 0; side < sides.size(); side++) {
        times[side][round] = sides.get(side).call();
      }
    }
    double[] medians = Arrays.stream(times).mapToDouble(JpegBench::median).toArray();
    return String.format(
        Locale.ROOT,
        "| %s | %.1f | %.0f | %.0f | %s | %s | %s | %s | %s | %s |%n",
        frame.name,
        Files.size(file) / 1e6,
        medians[0],
        medians[1],
        shown(medians[2], "%.0f"),
        shown(medians[0] / medians[2], "%.2f"),
        shown(medians[3], "%.0f"),
        shown(medians[0] / medians[3], "%.2f"),
        shown(medians[4], "%.0f"),
        shown(medians[0] / medians[4], "%.2f"));
  }

  private static String openCv() {
    try {
      nu.pattern.OpenCV.loadLocally();
      return "`org.openpnp:opencv`, OpenCV " + Core.VERSION;
    } catch (RuntimeException | UnsatisfiedLinkError e) {
      return MISSING;
    }
  }

  /** Milliseconds from the file to the counts of each channel, NaN where there is no OpenCV. */
  private static double openCvHistograms(String file) {
    if (openCv().equals(MISSING)) {
      return Double.NaN;
    }
    long start = System.nanoTime();
    Mat picture = Imgcodecs.imread(file);
    Mat counts = new Mat();
    for (int channel = 0; channel < 3; channel++) {
      Imgproc.calcHist(
          List.of(picture),
          new MatOfInt(channel),
          new Mat(),
          counts,
          new MatOfInt(256),
          new MatOfFloat(0, 256));
    }
    double time = (System.nanoTime() - start) / 1e6;
    counts.release();
    picture.release();
    return time;
  }

  private static double load() {
    return PROCESS.getSystemLoadAverage();
  }

  private static String shown(double value, String format) {
    return Double.isNaN(value) ? MISSING : String.format(Locale.ROOT, format, value);
  }

  private static double median(double[] values) {
    double[] sorted = values.clone();
    Arrays.sort(sorted);
    return sorted[sorted.length / 2];
  }

  private static double own(BenchReading reading, Path file) throws Exception {
    long start = System.nanoTime();
    reading.wholeResult(file);
    return (System.nanoTime() - start) / 1e6;
  }

  /** Milliseconds of a program from its start to its end, NaN where there is none. */
  private static double run(String... command) throws InterruptedException {
    long start = System.nanoTime();
    try {
      Process process =
          new ProcessBuilder(command)
              .redirectOutput(ProcessBuilder.Redirect.DISCARD)
              .redirectError(ProcessBuilder.Redirect.DISCARD)
              .start();
      return process.waitFor() == 0 ? (System.nanoTime() - start) / 1e6 : Double.NaN;
    } catch (IOException e) {
      return Double.NaN;
    }
  }

  /** Ours in a virtual machine bound to one processor, and djpeg bound to the same. */
  private static String oneCore(Path file, int rounds) throws Exception {
    String said = child(List.of("taskset", "-c", "0"), List.of(), file, rounds);
    return "One processor (`taskset -c 0`), 24 MP 4:2:2: "
        + said.lines().findFirst().orElse(MISSING)
        + ".\n";
  }

  private static String memory(Path file) throws Exception {
    String said = child(List.of(), List.of("-Xmx96m"), file, 3);
    return "\nMemory, 61 MP 4:2:2 at `-Xmx96m`: "
        + said.lines().skip(1).findFirst().orElse("fails")
        + ".\n";
  }

  /** What a small board is told in the README, measured from outside. */
  private static String littleMemory(Path file) throws Exception {
    List<String> command = new ArrayList<>(List.of("/usr/bin/time", "-f", "%M %U"));
    command.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
    command.addAll(SMALL_BOARD);
    command.addAll(List.of("-cp", System.getProperty("java.class.path")));
    command.addAll(List.of("org.scenespan.cli.Main", "inspect", file.toString()));
    if (!Files.exists(Path.of(command.get(0)))) {
      return "";
    }
    Process process =
        new ProcessBuilder(command).redirectOutput(ProcessBuilder.Redirect.DISCARD).start();
    String said = new String(process.getErrorStream().readAllBytes(), StandardCharsets.UTF_8);
    String last = said.strip().lines().reduce((before, line) -> line).orElse("");
    String result = "fails: " + said;
    if (process.waitFor() == 0) {
      String[] numbers = last.split(" ");
      result =
          String.format(
              Locale.ROOT,
              "%.1f MiB resident at most, %s s of processor time from start to end",
              Double.parseDouble(numbers[0]) / 1024,
              numbers[1]);
    }
    return "\n`inspect` of the same frame with `"
        + String.join(" ", SMALL_BOARD)
        + "`: "
        + result
        + ".\n";
  }

  private static String child(List<String> before, List<String> options, Path file, int rounds)
      throws Exception {
    List<String> command = new ArrayList<>(before);
    command.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
    command.addAll(options);
    command.addAll(
        List.of(
            "-cp",
            System.getProperty("java.class.path"),
            JpegBench.class.getName(),
            "alone",
            file.toString(),
            "" + rounds));
    Process process =
        new ProcessBuilder(command).redirectError(ProcessBuilder.Redirect.INHERIT).start();
    return new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
  }

  private static void alone(Path file, int rounds) throws Exception {
    BenchReading own = BenchReading.own();
    for (int i = 0; i < 6; i++) {
      own.wholeResult(file);
    }
    double[] ours = new double[rounds];
    double[] theirs = new double[rounds];
    double[] processor = new double[rounds];
    for (int i = 0; i < rounds; i++) {
      long before = PROCESS.getProcessCpuTime();
      ours[i] = own(own, file);
      processor[i] = (PROCESS.getProcessCpuTime() - before) / 1e6;
      theirs[i] = run("djpeg", "-outfile", "/dev/null", file.toString());
    }
    System.out.printf(
        Locale.ROOT,
        "ours %.0f ms (%.0f ms of processor time), djpeg %.0f ms, ratio %.2f%n",
        median(ours),
        median(processor),
        median(theirs),
        median(ours) / median(theirs));
    for (String line : Files.readAllLines(Path.of("/proc/self/status"))) {
      if (line.startsWith("VmHWM")) {
        System.out.printf(
            Locale.ROOT,
            "%d MiB resident at most%n",
            Long.parseLong(line.replaceAll("\\D", "")) / 1024);
      }
    }
  }

  /** The first frame of the table. */
  static void write24(Path file) throws Exception {
    write(FRAMES.get(0), file);
  }

  /** Soft light, texture at several scales, noise, and highlights of a few pixels. */
  private static void write(Frame frame, Path file) throws Exception {
    List<String> command = new ArrayList<>(List.of("cjpeg", "-quality", "97", "-optimize"));
    command.addAll(frame.coding);
    command.addAll(List.of("-outfile", file.toString()));
    Process process = new ProcessBuilder(command).start();
    Random random = new Random(1);
    byte[] noise = new byte[1 << 16];
    for (int i = 0; i < noise.length; i++) {
      noise[i] = (byte) Math.max(-40, Math.min(40, random.nextGaussian() * 3));
    }
    try (OutputStream out = new BufferedOutputStream(process.getOutputStream(), 1 << 16)) {
      out.write(("P6 " + frame.width + " " + frame.height + " 255\n").getBytes());
      byte[] row = new byte[frame.width * 3];
      for (int y = 0; y < frame.height; y++) {
        for (int x = 0; x < frame.width; x++) {
          double sky = 180 - 150.0 * y / frame.height;
          double texture =
              30 * Math.sin(x / 41.0 + Math.sin(y / 23.0) * 2) * Math.sin(y / 57.0)
                  + (y > frame.height / 2 ? 25 * Math.sin(x * 0.9) * Math.sin(y * 0.7) : 0);
          boolean glint = (x * 7919 + y * 104729) % 20011 < 3;
          for (int c = 0; c < 3; c++) {
            int grain = noise[random.nextInt() & 0xffff];
            double value = glint ? 255 : sky + texture * (1 - 0.2 * c) + 12 * c + grain;
            row[3 * x + c] = (byte) Math.max(0, Math.min(255, (int) value));
          }
        }
        out.write(row);
      }
    }
    if (process.waitFor() != 0) {
      throw new IOException("cjpeg cannot code the frame");
    }
  }
}

package org.scenespan.bench;

import java.io.IOException;
import java.lang.management.ManagementFactory;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.function.BiFunction;
import org.scenespan.folder.BenchFrames;
import org.scenespan.folder.BenchReading;
import org.scenespan.folder.FrameReader;

/**
 * Measures the whole result of a DNG against a general-purpose raw library that unpacks the same
 * file and counts histograms, interleaved in one run, and writes a table. Arguments: the file to
 * write, rounds (default 7), megapixels (24).
 *
 * <p>The library's side is a few lines of C++ compiled here; without g++ and the library's headers
 * (libraw-dev) its columns stay empty.
 */
public final class RawBench {
  private static final String LIBRARY_SIDE =
      """
      #include <libraw/libraw.h>
      #include <chrono>
      #include <cstdio>
      #include <ctime>
      #include <vector>
      static double cpu() {
        timespec t;
        clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
        return t.tv_sec + t.tv_nsec / 1e9;
      }
      static double wall() {
        return std::chrono::duration<double>(
          std::chrono::steady_clock::now().time_since_epoch()).count();
      }
      int main(int argc, char **argv) {
        for (int round = 0; round < 3; round++) {
          double wall0 = wall(), cpu0 = cpu();
          LibRaw raw;
          if (raw.open_file(argv[1]) != LIBRAW_SUCCESS || raw.unpack() != LIBRAW_SUCCESS) return 1;
          double wall1 = wall(), cpu1 = cpu();
          auto &sizes = raw.imgdata.sizes;
          // Of each site of the pattern, two tables at a time, so that no count waits for the last.
          std::vector<unsigned> counts(4 * 65536);
          for (int y = 0; y < sizes.raw_height; y++) {
            unsigned *left = &counts[(y & 1) * 2 * 65536], *right = left + 65536;
            const unsigned short *row = raw.imgdata.rawdata.raw_image + y * (sizes.raw_pitch / 2);
            for (int x = 0; x + 1 < sizes.raw_width; x += 2) {
              left[row[x]]++;
              right[row[x + 1]]++;
            }
          }
          double wall2 = wall(), cpu2 = cpu();
          std::vector<std::vector<unsigned>> named(4, std::vector<unsigned>(65536));
          for (int y = 0; y < sizes.raw_height; y++)
            for (int x = 0; x < sizes.raw_width; x++)
              named[raw.COLOR(y, x)]
                   [raw.imgdata.rawdata.raw_image[y * (sizes.raw_pitch / 2) + x]]++;
          double cpu3 = cpu();
          if (round == 2)
            printf("%f %f %f %f %u\\n", wall2 - wall0, cpu1 - cpu0, cpu2 - cpu0,
                   cpu1 - cpu0 + cpu3 - cpu2, counts[600] + named[0][600]);
        }
        return 0;
      }
      """;

  /** Told of what the library takes where it is not there. */
  private static final String MISSING = "missing";

  /** Readings in a row of which the processor time is taken: its clock is coarse. */
  private static final int IN_A_ROW = 5;

  private final Path library;
  private final int rounds;
  private final com.sun.management.OperatingSystemMXBean system =
      (com.sun.management.OperatingSystemMXBean) ManagementFactory.getOperatingSystemMXBean();

  private RawBench(Path library, int rounds) {
    this.library = library;
    this.rounds = rounds;
  }

  public static void main(String[] arguments) throws Exception {
    Path table = Path.of(arguments[0]);
    int rounds = arguments.length > 1 ? Integer.parseInt(arguments[1]) : 7;
    int megapixels = arguments.length > 2 ? Integer.parseInt(arguments[2]) : 24;
    int width = (int) Math.round(Math.sqrt(megapixels * 1e6 * 1.5) / 16) * 16;
    int height = (int) (megapixels * 1e6 / width) & ~1;
    Path folder = Files.createTempDirectory("raw-bench");
    StringBuilder text = new StringBuilder(head(rounds, megapixels));
    try {
      RawBench bench = new RawBench(library(folder), rounds);
      Map<String, BiFunction<Integer, Integer, byte[]>> forms = new LinkedHashMap<>();
      forms.put("lossless JPEG, tiles of 256", BenchFrames::tiled);
      forms.put("lossless JPEG, one strip", BenchFrames::oneStrip);
      forms.put("uncompressed, 16 bits", BenchFrames::uncompressed);
      forms.put("uncompressed, 12 bits packed", BenchFrames::packed12);
      for (Map.Entry<String, BiFunction<Integer, Integer, byte[]>> form : forms.entrySet()) {
        Path file = folder.resolve("frame.dng");
        Files.write(file, form.getValue().apply(width, height));
        String row = bench.row(form.getKey(), file);
        System.out.print(row);
        text.append(row);
      }
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

  private static String head(int rounds, int megapixels) {
    return String.format(
        Locale.ROOT,
        """
        # Reading DNGs: how long it takes

        Made by `mvn -q -Pbench-raw test-compile exec:exec`. The whole result of one frame (file
        read, histograms of the channels, of luminance and of the brightest channel, clip and crush
        counts, clipped areas, sharpness, Exif), and the same with preview and clip mask in memory,
        against LibRaw, called from C++ that is compiled in the run (`-O2`): it opens and unpacks
        the same file and counts a histogram of codes for each site of the pattern, with nothing
        written and no program's start included. Its histogram is counted with care, two tables at
        a time; asked for each site's colour by its own function, as its samples do, it takes
        longer, in the last column. It works on one processor, ours on two.

        %d megapixels of 14 bits; medians of %d rounds, interleaved, the compiler warm. Times of
        the clock are those of a machine with other work to do if it has any; processor time,
        summed over all threads, hardly depends on that.

        Machine: %d processors, Java %s (%s); load average %.1f when it began.

        | DNG | MB | ours, ms | LibRaw, ms | ratio | ours, processor ms | with preview | LibRaw: unpack | and histogram | ratio | by its colours |
        | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |
        """,
        megapixels,
        rounds,
        Runtime.getRuntime().availableProcessors(),
        System.getProperty("java.version"),
        System.getProperty("java.vendor"),
        ManagementFactory.getOperatingSystemMXBean().getSystemLoadAverage());
  }

  /** What is read once. */
  private interface Reading {
    void read() throws Exception;
  }

  private String row(String name, Path file) throws Exception {
    FrameReader reader = new FrameReader();
    BenchReading whole = BenchReading.own();
    Reading plain = () -> reader.read(file);
    Reading drawn = () -> whole.wholeResult(file);
    for (int i = 0; i < 12; i++) {
      plain.read();
      drawn.read();
    }
    // Clock and processor of ours, processor with preview, then what the library's side tells.
    double[][] times = new double[7][rounds];
    for (int i = 0; i < rounds; i++) {
      double[] ours = timed(plain);
      times[0][i] = ours[0];
      times[1][i] = ours[1];
      times[2][i] = timed(drawn)[1];
      double[] its = library == null ? new double[0] : timed(library, file);
      for (int k = 0; k < 4; k++) {
        times[3 + k][i] = its.length == 0 ? Double.NaN : its[k];
      }
    }
    double[] ms = Arrays.stream(times).mapToDouble(RawBench::median).map(s -> s * 1000).toArray();
    return String.format(
        Locale.ROOT,
        "| %s | %.1f | %.0f | %s | %s | %.0f | %.0f | %s | %s | %s | %s |%n",
        name,
        Files.size(file) / 1e6,
        ms[0],
        shown(ms[3], "%.0f"),
        shown(ms[0] / ms[3], "%.2f"),
        ms[1],
        ms[2],
        shown(ms[4], "%.0f"),
        shown(ms[5], "%.0f"),
        shown(ms[1] / ms[5], "%.2f"),
        shown(ms[6], "%.0f"));
  }

  private static String shown(double value, String format) {
    return Double.isNaN(value) ? MISSING : String.format(Locale.ROOT, format, value);
  }

  /** The least time by the clock and the mean time of the processors, seconds. */
  private double[] timed(Reading reading) throws Exception {
    double least = Double.POSITIVE_INFINITY;
    long processor = system.getProcessCpuTime();
    for (int i = 0; i < IN_A_ROW; i++) {
      long start = System.nanoTime();
      reading.read();
      least = Math.min(least, (System.nanoTime() - start) / 1e9);
    }
    return new double[] {least, (system.getProcessCpuTime() - processor) / 1e9 / IN_A_ROW};
  }

  private static double[] timed(Path library, Path file) throws IOException, InterruptedException {
    Process process = new ProcessBuilder(library.toString(), file.toString()).start();
    String[] told = new String(process.getInputStream().readAllBytes()).split(" ");
    if (process.waitFor() != 0) {
      throw new IOException("the library does not read " + file);
    }
    return Arrays.stream(told).limit(4).mapToDouble(Double::parseDouble).toArray();
  }

  private static Path library(Path folder) throws IOException, InterruptedException {
    Path source = Files.writeString(folder.resolve("side.cpp"), LIBRARY_SIDE);
    Path program = folder.resolve("side");
    try {
      Process compiler =
          new ProcessBuilder("g++", "-O2", "-o", program.toString(), source.toString(), "-lraw")
              .redirectErrorStream(true)
              .start();
      String said = new String(compiler.getInputStream().readAllBytes());
      if (compiler.waitFor() == 0) {
        return program;
      }
      System.err.println("The library's side does not compile: " + said);
    } catch (IOException e) {
      System.err.println("There is no compiler for the library's side: " + e.getMessage());
    }
    return null;
  }

  private static double median(double[] values) {
    double[] sorted = values.clone();
    Arrays.sort(sorted);
    return sorted[sorted.length / 2];
  }
}

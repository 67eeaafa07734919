package org.scenespan.bench;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.function.BiFunction;
import org.scenespan.folder.BenchFrames;
import org.scenespan.folder.FrameReader;
import org.scenespan.folder.UnreadableFrame;

/**
 * Measures the whole result of a DNG (histograms, clip counts, texture) against a general-purpose
 * raw library that unpacks the same file and counts a histogram of each site's colour, interleaved
 * in one run. Prints rows of a Markdown table. Arguments: rounds (default 7), megapixels (24).
 *
 * <p>The library's side is a few lines of C++ compiled here; without g++ and the library's headers
 * (libraw-dev) its column stays empty.
 */
public final class RawBench {
  private static final String LIBRARY_SIDE =
      """
      #include <libraw/libraw.h>
      #include <chrono>
      #include <cstdio>
      #include <vector>
      int main(int argc, char **argv) {
        for (int round = 0; round < 3; round++) {
          auto start = std::chrono::steady_clock::now();
          LibRaw raw;
          if (raw.open_file(argv[1]) != LIBRAW_SUCCESS || raw.unpack() != LIBRAW_SUCCESS) return 1;
          auto unpacked = std::chrono::steady_clock::now();
          auto &sizes = raw.imgdata.sizes;
          std::vector<std::vector<unsigned>> counts(4, std::vector<unsigned>(65536));
          for (int y = 0; y < sizes.raw_height; y++)
            for (int x = 0; x < sizes.raw_width; x++)
              counts[raw.COLOR(y, x)]
                    [raw.imgdata.rawdata.raw_image[y * (sizes.raw_pitch / 2) + x]]++;
          auto end = std::chrono::steady_clock::now();
          if (round == 2)
            printf("%f %f %u\\n", std::chrono::duration<double>(unpacked - start).count(),
                   std::chrono::duration<double>(end - start).count(), counts[0][0]);
        }
        return 0;
      }
      """;

  private RawBench() {}

  public static void main(String[] arguments) throws Exception {
    int rounds = arguments.length > 0 ? Integer.parseInt(arguments[0]) : 7;
    int megapixels = arguments.length > 1 ? Integer.parseInt(arguments[1]) : 24;
    int width = (int) Math.round(Math.sqrt(megapixels * 1e6 * 1.5) / 16) * 16;
    int height = (int) (megapixels * 1e6 / width) & ~1;
    Path folder = Files.createTempDirectory("raw-bench");
    try {
      Path library = library(folder);
      Map<String, BiFunction<Integer, Integer, byte[]>> forms = new LinkedHashMap<>();
      forms.put("lossless JPEG, tiles of 256", BenchFrames::tiled);
      forms.put("lossless JPEG, one strip", BenchFrames::oneStrip);
      forms.put("uncompressed, 16 bits", BenchFrames::uncompressed);
      forms.put("uncompressed, 12 bits packed", BenchFrames::packed12);
      System.out.println(
          "| DNG of "
              + megapixels
              + " MP | MB | ours, ms | library: unpack, ms"
              + " | unpack + histogram, ms | ratio |");
      System.out.println("| --- | --- | --- | --- | --- | --- |");
      for (Map.Entry<String, BiFunction<Integer, Integer, byte[]>> form : forms.entrySet()) {
        Path file = folder.resolve("frame.dng");
        Files.write(file, form.getValue().apply(width, height));
        row(form.getKey(), file, library, rounds);
      }
    } finally {
      try (var files = Files.list(folder)) {
        for (Path file : files.toList()) {
          Files.delete(file);
        }
      }
      Files.delete(folder);
    }
  }

  private static void row(String name, Path file, Path library, int rounds) throws Exception {
    FrameReader reader = new FrameReader();
    for (int i = 0; i < 12; i++) {
      reader.read(file);
    }
    double[] ours = new double[rounds];
    double[] unpack = new double[rounds];
    double[] whole = new double[rounds];
    for (int i = 0; i < rounds; i++) {
      ours[i] = Math.min(timed(reader, file), Math.min(timed(reader, file), timed(reader, file)));
      double[] its = library == null ? new double[] {Double.NaN, Double.NaN} : timed(library, file);
      unpack[i] = its[0];
      whole[i] = its[1];
    }
    System.out.printf(
        Locale.ROOT,
        "| %s | %.1f | %.0f | %.0f | %.0f | %.2f |%n",
        name,
        Files.size(file) / 1e6,
        median(ours) * 1000,
        median(unpack) * 1000,
        median(whole) * 1000,
        median(ours) / median(whole));
  }

  private static double timed(FrameReader reader, Path file) throws UnreadableFrame {
    long start = System.nanoTime();
    reader.read(file);
    return (System.nanoTime() - start) / 1e9;
  }

  private static double[] timed(Path library, Path file) throws IOException, InterruptedException {
    Process process = new ProcessBuilder(library.toString(), file.toString()).start();
    String[] told = new String(process.getInputStream().readAllBytes()).split(" ");
    if (process.waitFor() != 0) {
      throw new IOException("the library does not read " + file);
    }
    return new double[] {Double.parseDouble(told[0]), Double.parseDouble(told[1])};
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

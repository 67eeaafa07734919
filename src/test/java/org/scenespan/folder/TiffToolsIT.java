package org.scenespan.folder;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.scenespan.Needs;
import org.scenespan.Tool;

/** Holds the samples of TIFF files against the tools of the reference library, each and all. */
class TiffToolsIT {
  private static final int WIDTH = 150;
  private static final int HEIGHT = 97;

  @TempDir Path folder;

  private static int[] samples(Path file) throws IOException, UnreadableFrame {
    try (Bytes bytes = Bytes.open(file)) {
      TiffStructure tiff = TiffStructure.of(bytes);
      TiffStructure.Directory directory = TiffPicture.directoryIn(tiff).orElseThrow();
      TiffLayout layout = TiffLayout.of(directory, tiff.isBigEndian());
      TiffPixels pixels = new TiffPixels(bytes, layout);
      int length = layout.width() * layout.samples();
      int[] all = new int[length * layout.height()];
      int[] row = new int[length];
      for (int y = 0; y < layout.height(); y++) {
        pixels.row(y, row);
        System.arraycopy(row, 0, all, y * length, length);
      }
      return all;
    }
  }

  /** Little-endian, uncompressed, one strip. */
  private Path plain(int[] samples, int channels, int bits, boolean real) throws IOException {
    ByteBuffer data = ByteBuffer.allocate(samples.length * bits / 8).order(ByteOrder.LITTLE_ENDIAN);
    for (int sample : samples) {
      switch (bits) {
        case 8 -> data.put((byte) sample);
        case 16 -> data.putShort((short) sample);
        default -> data.putInt(sample);
      }
    }
    int[] depths = new int[channels];
    Arrays.fill(depths, bits);
    int[] kinds = new int[channels];
    Arrays.fill(kinds, real ? 3 : 1);
    byte[] file =
        new TiffBytes(ByteOrder.LITTLE_ENDIAN)
            .longs(256, WIDTH)
            .longs(257, HEIGHT)
            .shorts(258, depths)
            .shorts(259, 1)
            .shorts(262, channels == 3 ? 2 : 1)
            .data(273, data.array())
            .shorts(277, channels)
            .longs(278, HEIGHT)
            .longs(279, data.capacity())
            .shorts(284, 1)
            .shorts(339, kinds)
            .file();
    return Files.write(folder.resolve("plain.tif"), file);
  }

  /** Smooth with some noise and some runs, so that every way of packing has something to do. */
  private static int[] drawn(int channels, int bits, boolean real) {
    Random random = new Random(bits + channels);
    int[] samples = new int[WIDTH * HEIGHT * channels];
    for (int i = 0; i < samples.length; i++) {
      int x = i / channels % WIDTH;
      double value = x < 40 ? 0.25 : (x + random.nextDouble() * 20) / (WIDTH + 20);
      samples[i] =
          real
              ? Float.floatToRawIntBits((float) (value * 3 - 0.5))
              : (int) (long) (value * (Math.pow(2, bits) - 1));
    }
    return samples;
  }

  @ParameterizedTest
  @ValueSource(strings = {"1 8", "3 8", "1 16", "3 16", "1 32", "3 32", "1 float", "3 float"})
  void everyWayOfPacking(String kind) throws Exception {
    Path tool = Needs.tool("raw", "tiffcp");
    int channels = kind.charAt(0) - '0';
    boolean real = kind.endsWith("float");
    int bits = real ? 32 : Integer.parseInt(kind.substring(2));
    int[] wanted = drawn(channels, bits, real);
    Path plain = plain(wanted, channels, bits, real);
    assertArrayEquals(wanted, samples(plain), "plain");
    String difference = real ? ":3" : ":2";
    int packed = 0;
    for (String compression :
        List.of("none", "lzw", "lzw" + difference, "zip", "zip" + difference, "packbits")) {
      for (String form :
          List.of(
              "-r 7",
              "-B -r 200",
              "-t -w 64 -l 32",
              "-t -w 64 -l 32 -B",
              "-p separate -r 10",
              "-p separate -t -w 16 -l 48",
              "-f lsb2msb -L -r 20")) {
        if (form.contains("separate") && bits != 8) {
          continue; // The tool separates planes of 8 bits only.
        }
        if (form.contains("-B") && compression.endsWith(":3")) {
          continue; // Written by this tool, not even the library itself reads them back right.
        }
        List<String> command = new ArrayList<>(List.of("-c", compression));
        command.addAll(List.of(form.split(" ")));
        Path file = folder.resolve("packed.tif");
        Files.deleteIfExists(file);
        command.add(plain.toString());
        command.add(file.toString());
        Tool.run(tool, command.toArray(String[]::new));
        assertArrayEquals(wanted, samples(file), compression + " " + form);
        packed++;
      }
    }
    assertEquals(bits == 8 ? 42 : real ? 26 : 30, packed);
  }

  /** The raw library does not read uncompressed tiles; this one makes strips of them. */
  @ParameterizedTest
  @ValueSource(ints = {16, 64, 128})
  void uncompressedTilesOfAMosaic(int side) throws Exception {
    Path tool = Needs.tool("raw", "tiffcp");
    int[][] sites = Pictures.sites(WIDTH, HEIGHT, 16383, side);
    byte[] dng =
        DngForms.plainTiles(ByteOrder.LITTLE_ENDIAN, sites, side, 16)
            .shorts(262, 1)
            .shorts(284, 1)
            .file();
    Path tiles = Files.write(folder.resolve("tiles.tif"), dng);
    Path strips = folder.resolve("strips.tif");
    Tool.run(tool, "-s", "-r", "8", tiles.toString(), strips.toString());
    int[] wanted = Arrays.stream(sites).flatMapToInt(Arrays::stream).toArray();
    assertArrayEquals(wanted, samples(strips));
    assertArrayEquals(wanted, samples(tiles));
  }

  /** The library's own bytes of each strip, in the order of this machine: unpacked bit by bit. */
  @Test
  void everyDepth() throws Exception {
    Path tool = Needs.tool("raw", "tiffinfo");
    List<String> checked = new ArrayList<>();
    for (Path file : SharedFiles.filesBelow(SharedFiles.folder("valid/tiff-depth"))) {
      if (!file.toString().endsWith(".tif")) {
        continue;
      }
      String said = Tool.run(tool, "-d", file.toString());
      TiffLayout layout;
      try (Bytes bytes = Bytes.open(file)) {
        TiffStructure tiff = TiffStructure.of(bytes);
        layout = TiffLayout.of(TiffPicture.directoryIn(tiff).orElseThrow(), tiff.isBigEndian());
      }
      assertArrayEquals(librarys(said, layout), samples(file), file.toString());
      checked.add(file.getFileName().toString());
    }
    assertEquals(36, checked.size(), checked::toString);
  }

  private static int[] librarys(String said, TiffLayout layout) {
    // A planar picture's strips are told in turn from each plane; their numbers put them in order.
    Map<Integer, List<Integer>> strips = new TreeMap<>();
    List<Integer> strip = new ArrayList<>();
    for (String line : said.lines().toList()) {
      if (line.matches("Strip \\d+:")) {
        strip = new ArrayList<>();
        strips.put(Integer.valueOf(line.replaceAll("\\D", "")), strip);
      }
      if (line.matches("( [0-9a-f]{2})+")) {
        for (String hex : line.strip().split(" ")) {
          strip.add(Integer.parseInt(hex, 16));
        }
      }
    }
    List<Integer> bytes = strips.values().stream().flatMap(List::stream).toList();
    int planes = layout.planar() ? layout.samples() : 1;
    int inRow = layout.width() * layout.samples() / planes;
    int rowBytes = (inRow * layout.bits() + 7) / 8;
    int[] samples = new int[layout.width() * layout.height() * layout.samples()];
    assertEquals(rowBytes * layout.height() * planes, bytes.size());
    for (int plane = 0; plane < planes; plane++) {
      for (int y = 0; y < layout.height(); y++) {
        int row = (plane * layout.height() + y) * rowBytes;
        for (int i = 0; i < inRow; i++) {
          int at = y * layout.width() * layout.samples() + (planes == 1 ? i : i * planes + plane);
          samples[at] = sample(bytes, row, i, layout.bits());
        }
      }
    }
    return samples;
  }

  private static int sample(List<Integer> bytes, int row, int index, int bits) {
    int value = 0;
    boolean words = bits == 16 || bits == 24 || bits == 32;
    boolean little = words && ByteOrder.nativeOrder() == ByteOrder.LITTLE_ENDIAN;
    for (int bit = 0; bit < bits; bit++) {
      int place = index * bits + (little ? bits - 8 - bit / 8 * 8 + bit % 8 : bit);
      value = value << 1 | bytes.get(row + place / 8) >> 7 - place % 8 & 1;
    }
    return value;
  }
}

package org.scenespan.folder;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.scenespan.Needs;
import org.scenespan.Tool;

/** Holds the unpacked codes of a mosaic against a general-purpose raw library, site by site. */
class RawToolsIT {
  private static final int WIDTH = 412;
  private static final int HEIGHT = 291;

  @TempDir Path folder;

  private static TiffBytes camera(TiffBytes dng) {
    return dng.text(50708, "Scenespan Test sensor")
        .text(271, "Scenespan")
        .text(272, "Test sensor")
        .bytes(50707, 1, 1, 0, 0)
        .bytes(50710, 0, 1, 2)
        .shorts(284, 1)
        .signedRationals(50721, 1, 1, 0, 1, 0, 1, 0, 1, 1, 1, 0, 1, 0, 1, 0, 1, 1, 1)
        .rationals(50728, 1, 1, 1, 1, 1, 1)
        .shorts(50778, 21);
  }

  /** The library's codes as a PGM of 16 bits, big-endian. */
  private short[] library(byte[] dng) throws Exception {
    Path tool = Needs.tool("raw", "unprocessed_raw");
    Path file = Files.write(folder.resolve("a.dng"), dng);
    Tool.run(tool, file.toString());
    byte[] pgm = Files.readAllBytes(folder.resolve("a.dng.pgm"));
    String header = "P5\n" + WIDTH + " " + HEIGHT + "\n65535\n";
    assertEquals(header, new String(pgm, 0, header.length(), StandardCharsets.US_ASCII));
    short[] codes = new short[WIDTH * HEIGHT];
    ByteBuffer.wrap(pgm).position(header.length()).slice().asShortBuffer().get(codes);
    return codes;
  }

  private short[] ours(byte[] dng) throws Exception {
    Path file = Files.write(folder.resolve("b.dng"), dng);
    try (Bytes bytes = Bytes.open(file)) {
      TiffStructure tiff = TiffStructure.of(bytes);
      Optional<TiffStructure.Directory> sensor = RawPicture.directoryIn(tiff);
      RawPicture picture = RawPicture.of(sensor.orElseThrow(), tiff.isBigEndian());
      RawBands bands = new RawBands(bytes, picture);
      int[] pairs = new int[(int) bands.allPairs()];
      for (int band = 0; band < bands.bands(); band++) {
        bands.unpack(band, pairs, bands.firstRow(band) * bands.stride());
      }
      short[] codes = new short[WIDTH * HEIGHT];
      for (int i = 0; i < codes.length; i++) {
        codes[i] = (short) RawBands.site(pairs, i / WIDTH * bands.stride(), i % WIDTH);
      }
      return codes;
    }
  }

  private static short[] flat(int[][] sites) {
    short[] codes = new short[WIDTH * HEIGHT];
    for (int i = 0; i < codes.length; i++) {
      codes[i] = (short) sites[i / WIDTH][i % WIDTH];
    }
    return codes;
  }

  /** Of several lossless strips the library reads only the first: one strip here. */
  @ParameterizedTest
  @CsvSource({
    "tiled, 64, 14, 1, 1", "tiled, 128, 14, 2, 1", "tiled, 256, 12, 2, 2", "tiled, 64, 16, 2, 3",
    "tiled, 64, 14, 2, 4", "tiled, 64, 14, 2, 5", "tiled, 64, 14, 1, 6", "tiled, 64, 14, 2, 7",
    "tiled, 64, 14, 4, 1", "strips, 291, 14, 2, 1", "strips, 291, 12, 1, 1", "strips, 291, 16, 2, 6"
  })
  void losslessCodes(String form, int size, int bits, int components, int predictor)
      throws Exception {
    int[][] sites = Pictures.sites(WIDTH, HEIGHT, (1 << bits) - 1, size + predictor);
    DngForms.Lossless lossless = new DngForms.Lossless(components, predictor, 0);
    TiffBytes dng =
        form.equals("tiled")
            ? DngForms.tiled(ByteOrder.LITTLE_ENDIAN, sites, size, bits, lossless)
            : DngForms.strips(ByteOrder.LITTLE_ENDIAN, sites, size, bits, lossless);
    byte[] file = camera(dng).file();
    assertArrayEquals(flat(sites), ours(file), "ours");
    assertArrayEquals(ours(file), library(file), "the library's");
  }

  @ParameterizedTest
  @CsvSource({"8, true", "10, true", "12, true", "14, true", "16, true", "12, false", "16, false"})
  void plainCodes(int bits, boolean big) throws Exception {
    ByteOrder order = big ? ByteOrder.BIG_ENDIAN : ByteOrder.LITTLE_ENDIAN;
    int[][] sites = Pictures.sites(WIDTH, HEIGHT, (1 << bits) - 1, bits);
    byte[] data = Pictures.packed(sites, bits, order);
    byte[] file =
        camera(Pictures.dng(order, sites))
            .shorts(258, bits)
            .data(273, data)
            .longs(279, data.length)
            .shorts(50714, 0)
            .longs(50717, (1 << bits) - 1)
            .file();
    assertArrayEquals(flat(sites), ours(file), "ours");
    assertArrayEquals(ours(file), library(file), "the library's");
  }

  @ParameterizedTest
  @CsvSource({"1", "2"})
  void linearizationTable(int components) throws Exception {
    int[][] sites = Pictures.sites(WIDTH, HEIGHT, 255, components);
    int[] table = new int[256];
    java.util.Arrays.setAll(table, i -> i * i / 4 + i);
    DngForms.Lossless lossless = new DngForms.Lossless(components, 1, 0);
    TiffBytes dng =
        DngForms.tiled(ByteOrder.BIG_ENDIAN, sites, 64, 8, lossless)
            .shorts(50712, table)
            .longs(50717, table[255])
            .shorts(50714, 0);
    byte[] file = camera(dng).file();
    assertArrayEquals(ours(file), library(file), "the library's");
  }
}

package org.scenespan.folder;

import java.nio.ByteOrder;
import java.util.Arrays;
import java.util.SplittableRandom;

/** Big DNGs made by code, for measurements: gradients, texture, photon noise, small highlights. */
public final class BenchFrames {
  private static final int BLACK = 512;
  private static final int WHITE = 16383;

  private BenchFrames() {}

  private static int[][] sites(int width, int height) {
    SplittableRandom random = new SplittableRandom(1);
    int[][] sites = new int[height][width];
    for (int y = 0; y < height; y++) {
      for (int x = 0; x < width; x++) {
        double slope = Math.exp(-7.0 * ((x + y) % 4096) / 4096);
        double texture = 1 + 0.2 * Math.sin(x * 0.11) * Math.sin(y * 0.07);
        double light = (WHITE - BLACK) * slope * texture * ((x + y) % 2 == 0 ? 1 : 0.6);
        double noise =
            Math.sqrt(light / 3 + 4) * (random.nextDouble() + random.nextDouble() - 1) * 2.4;
        boolean glint = random.nextInt(20_000) == 0;
        int code = glint ? WHITE : BLACK + (int) Math.round(light + noise);
        sites[y][x] = Math.max(0, Math.min(WHITE, code));
      }
    }
    return sites;
  }

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

  /** In tiles of 256 sites a side, as raw converters write them. */
  public static byte[] tiled(int width, int height) {
    DngForms.Lossless form = new DngForms.Lossless(2, 1, 0);
    return camera(DngForms.tiled(ByteOrder.LITTLE_ENDIAN, sites(width, height), 256, 14, form))
        .file();
  }

  /** In one strip. */
  public static byte[] oneStrip(int width, int height) {
    DngForms.Lossless form = new DngForms.Lossless(2, 1, 0);
    return camera(DngForms.strips(ByteOrder.LITTLE_ENDIAN, sites(width, height), height, 14, form))
        .file();
  }

  /** Words of 16 bits in one strip. */
  public static byte[] uncompressed(int width, int height) {
    return camera(Pictures.dng(ByteOrder.LITTLE_ENDIAN, sites(width, height))).file();
  }

  /** Codes of 12 bits packed. */
  public static byte[] packed12(int width, int height) {
    int[][] sites = sites(width, height);
    for (int[] row : sites) {
      Arrays.setAll(row, x -> row[x] >> 2);
    }
    byte[] data = Pictures.packed(sites, 12, ByteOrder.BIG_ENDIAN);
    return camera(Pictures.dng(ByteOrder.BIG_ENDIAN, sites))
        .shorts(258, 12)
        .data(273, data)
        .longs(279, data.length)
        .shorts(50714, 128)
        .longs(50717, 4095)
        .file();
  }
}

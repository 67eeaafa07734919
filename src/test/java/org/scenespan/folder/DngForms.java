package org.scenespan.folder;

import java.io.ByteArrayOutputStream;
import java.nio.ByteOrder;
import java.util.ArrayList;
import java.util.List;

/** Writes one mosaic as DNGs of many forms, for tests and measurements. */
final class DngForms {
  private DngForms() {}

  /** How a JPEG of a tile is made: components side by side, predictor, restart marks. */
  record Lossless(int components, int predictor, int restartRows) {
    byte[] bytes(int[] samples, int width, int height, int precision) {
      return new LosslessJpegWriter(samples, width / components, height, components, precision)
          .predictor(predictor)
          .restartEvery(restartRows)
          .bytes();
    }
  }

  /**
   * In tiles of lossless JPEG; a tile that reaches over an edge repeats the last sites.
   *
   * @param side of a tile, a multiple of 16
   */
  static TiffBytes tiled(ByteOrder order, int[][] sites, int side, int bits, Lossless form) {
    List<byte[]> tiles = new ArrayList<>();
    int height = sites.length;
    int width = sites[0].length;
    for (int top = 0; top < height; top += side) {
      for (int left = 0; left < width; left += side) {
        int[] samples = new int[side * side];
        for (int y = 0; y < side; y++) {
          for (int x = 0; x < side; x++) {
            int[] row = sites[Math.min(height - 1, top + y)];
            samples[y * side + x] = row[Math.min(width - 1, left + x)];
          }
        }
        tiles.add(form.bytes(samples, side, side, bits));
      }
    }
    return withPieces(
        Pictures.dng(order, sites).shorts(258, bits).longs(322, side).longs(323, side),
        tiles,
        324,
        325,
        7);
  }

  /** In strips of lossless JPEG. */
  static TiffBytes strips(ByteOrder order, int[][] sites, int rows, int bits, Lossless form) {
    List<byte[]> strips = new ArrayList<>();
    int width = sites[0].length;
    for (int top = 0; top < sites.length; top += rows) {
      int tall = Math.min(rows, sites.length - top);
      int[] samples = new int[width * tall];
      for (int y = 0; y < tall; y++) {
        System.arraycopy(sites[top + y], 0, samples, y * width, width);
      }
      strips.add(form.bytes(samples, width, tall, bits));
    }
    return withPieces(
        Pictures.dng(order, sites).shorts(258, bits).longs(278, rows), strips, 273, 279, 7);
  }

  /** In uncompressed tiles. */
  static TiffBytes plainTiles(ByteOrder order, int[][] sites, int side, int bits) {
    List<byte[]> tiles = new ArrayList<>();
    for (int top = 0; top < sites.length; top += side) {
      for (int left = 0; left < sites[0].length; left += side) {
        int[][] tile = new int[side][side];
        for (int y = 0; y < side && top + y < sites.length; y++) {
          for (int x = 0; x < side && left + x < sites[0].length; x++) {
            tile[y][x] = sites[top + y][left + x];
          }
        }
        tiles.add(Pictures.packed(tile, bits, order));
      }
    }
    return withPieces(
        Pictures.dng(order, sites).shorts(258, bits).longs(322, side).longs(323, side),
        tiles,
        324,
        325,
        1);
  }

  /** Puts pieces into a file and their places into its directory. */
  static TiffBytes withPieces(
      TiffBytes dng, List<byte[]> pieces, int offsetTag, int lengthTag, int compression) {
    ByteArrayOutputStream all = new ByteArrayOutputStream();
    long[] offsets = new long[pieces.size()];
    long[] lengths = new long[pieces.size()];
    for (int i = 0; i < offsets.length; i++) {
      offsets[i] = all.size();
      lengths[i] = pieces.get(i).length;
      all.writeBytes(pieces.get(i));
    }
    dng.without(273).without(279).without(324).without(325).shorts(259, compression);
    dng.longs(lengthTag, lengths).longs(offsetTag, offsets);
    return dng.appended(offsetTag, offsets, all.toByteArray());
  }
}

package org.scenespan.folder;

import org.scenespan.folder.jpeg.RowSink;

/** A sink that keeps everything, for comparing: red, green and blue of each pixel in turn. */
final class Picture implements RowSink {
  private int width;
  private int height;
  private byte[] rgb = {};

  int width() {
    return width;
  }

  int height() {
    return height;
  }

  byte[] rgb() {
    return rgb;
  }

  @Override
  public void begin(int columns, int rows) {
    width = columns;
    height = rows;
    rgb = new byte[columns * rows * 3];
  }

  @Override
  public RowSink.Part part() {
    return new RowSink.Part() {
      @Override
      public void row(int y, int[] pixels) {
        int half = (width + 1) / 2;
        for (int x = 0; x < width; x++) {
          int pixel = pixels[(x & 1) * half + (x >> 1)];
          int to = (y * width + x) * 3;
          rgb[to] = (byte) (pixel >>> 16);
          rgb[to + 1] = (byte) (pixel >>> 8);
          rgb[to + 2] = (byte) pixel;
        }
      }

      @Override
      public void above(int y, int[] pixels) {}
    };
  }
}

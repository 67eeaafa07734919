package org.scenespan.folder;

import org.scenespan.folder.jpeg.RowSink;
import org.scenespan.frame.PackedPixel;
import org.scenespan.frame.RowOrder;

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
        RowOrder order = new RowOrder(width);
        for (int x = 0; x < width; x++) {
          int pixel = pixels[order.placeOf(x)];
          int to = (y * width + x) * 3;
          rgb[to] = (byte) PackedPixel.red(pixel);
          rgb[to + 1] = (byte) PackedPixel.green(pixel);
          rgb[to + 2] = (byte) PackedPixel.blue(pixel);
        }
      }

      @Override
      public void above(int y, int[] pixels) {}
    };
  }
}

package org.scenespan.folder;

import java.awt.Point;
import java.awt.color.ColorSpace;
import java.awt.image.BufferedImage;
import java.awt.image.ColorModel;
import java.awt.image.ComponentColorModel;
import java.awt.image.DataBuffer;
import java.awt.image.DataBufferByte;
import java.awt.image.PixelInterleavedSampleModel;
import java.awt.image.Raster;
import java.awt.image.WritableRaster;
import org.scenespan.folder.jpeg.RowSink;
import org.scenespan.frame.PackedPixel;
import org.scenespan.frame.RowOrder;

/**
 * The picture that the JDK's JPEG reader is told to fill, which keeps nothing: every row that the
 * reader puts into it goes to a sink. That the reader puts rows by {@link #setRect} is not
 * promised, so {@link #isComplete} tells whether it did. Of a progressive file it puts every pass,
 * each from the top; only the last one is the picture.
 */
final class RowRaster extends WritableRaster {
  private final RowSink sink;
  private final int bands;
  private final byte[] row;
  private final RowOrder order;
  private final int[] pixels;
  private RowSink.Part part;
  private int passesToSkip;
  private int next = -1;

  /**
   * @param passesToSkip passes that do not go to the sink
   */
  RowRaster(int width, int height, int bands, int passesToSkip, RowSink sink) {
    super(
        new PixelInterleavedSampleModel(
            DataBuffer.TYPE_BYTE, width, height, bands, width * bands, offsets(bands)),
        new DataBufferByte(1),
        new Point());
    this.sink = sink;
    this.bands = bands;
    this.passesToSkip = passesToSkip;
    this.row = new byte[width * bands];
    this.order = new RowOrder(width);
    this.pixels = new int[order.length()];
  }

  private static int[] offsets(int bands) {
    return bands == 1 ? new int[] {0} : new int[] {0, 1, 2};
  }

  /** The raster as a picture in sRGB or grey. */
  BufferedImage image() {
    ColorSpace space = ColorSpace.getInstance(bands == 1 ? ColorSpace.CS_GRAY : ColorSpace.CS_sRGB);
    ColorModel model =
        new ComponentColorModel(space, false, false, ColorModel.OPAQUE, DataBuffer.TYPE_BYTE);
    return new BufferedImage(model, this, false, null);
  }

  boolean isComplete() {
    return next == height;
  }

  @Override
  public void setRect(int x, int y, Raster source) {
    if (x != 0 || source.getWidth() != width || source.getNumBands() != bands) {
      throw new IllegalStateException("a part of a row");
    }
    if (passesToSkip > 0) {
      passesToSkip -= y + source.getHeight() == height ? 1 : 0;
      return;
    }
    for (int line = 0; line < source.getHeight(); line++) {
      source.getDataElements(source.getMinX(), source.getMinY() + line, width, 1, row);
      take(y + line);
    }
  }

  private void take(int y) {
    if (y == 0) {
      sink.begin(width, height);
      part = sink.part();
      next = 0;
    }
    if (y != next) {
      throw new IllegalStateException("row " + y + " in the place of row " + next);
    }
    int green = bands == 1 ? 0 : 1;
    int blue = bands == 1 ? 0 : 2;
    for (int x = 0, i = 0; x < width; x++, i += bands) {
      pixels[order.placeOf(x)] =
          PackedPixel.of(row[i] & 0xff, row[i + green] & 0xff, row[i + blue] & 0xff);
    }
    part.row(y, pixels);
    next++;
  }
}

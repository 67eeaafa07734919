package org.scenespan.folder;

import java.awt.image.BufferedImage;
import java.awt.image.DataBufferInt;
import java.awt.image.DirectColorModel;
import java.awt.image.Raster;
import java.awt.image.WritableRaster;
import org.scenespan.frame.BlockGrid;

/**
 * A small picture of a frame and a mask of the same size, both upright.
 *
 * @param picture sRGB
 * @param mask transparent but for clipped and crushed pixels, see {@link PreviewPainter}
 * @param grid the frame's light over blocks, as the file has them, to be held against other frames
 */
record Preview(BufferedImage picture, BufferedImage mask, BlockGrid grid) {
  /** Turns and mirrors so that what was up is up (CIPA DC-008, Orientation). */
  static BufferedImage upright(int[] pixels, int columns, int lines, int type, int orientation) {
    if (orientation == 1) {
      return around(pixels, columns, lines, type);
    }
    boolean turned = orientation >= 5;
    BufferedImage image =
        turned ? new BufferedImage(lines, columns, type) : new BufferedImage(columns, lines, type);
    int right = columns - 1;
    int bottom = lines - 1;
    for (int y = 0; y < lines; y++) {
      for (int x = 0; x < columns; x++) {
        int pixel = pixels[y * columns + x];
        switch (orientation) {
          case 2 -> image.setRGB(right - x, y, pixel);
          case 3 -> image.setRGB(right - x, bottom - y, pixel);
          case 4 -> image.setRGB(x, bottom - y, pixel);
          case 5 -> image.setRGB(y, x, pixel);
          case 6 -> image.setRGB(bottom - y, x, pixel);
          case 7 -> image.setRGB(bottom - y, right - x, pixel);
          case 8 -> image.setRGB(y, right - x, pixel);
          default -> image.setRGB(x, y, pixel);
        }
      }
    }
    return image;
  }

  /** The pixels as they lie in memory: a preview's are some megabytes. */
  private static BufferedImage around(int[] pixels, int columns, int lines, int type) {
    DirectColorModel colours =
        type == BufferedImage.TYPE_INT_ARGB
            ? new DirectColorModel(32, 0xff0000, 0xff00, 0xff, 0xff000000)
            : new DirectColorModel(24, 0xff0000, 0xff00, 0xff);
    WritableRaster raster =
        Raster.createPackedRaster(
            new DataBufferInt(pixels, pixels.length),
            columns,
            lines,
            columns,
            colours.getMasks(),
            null);
    return new BufferedImage(colours, raster, false, null);
  }
}

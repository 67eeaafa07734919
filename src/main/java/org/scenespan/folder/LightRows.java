package org.scenespan.folder;

import java.util.Optional;
import org.scenespan.frame.ColourSpace;
import org.scenespan.frame.FrameMeasure;
import org.scenespan.frame.FrameSource;
import org.scenespan.frame.LightMeter;
import org.scenespan.frame.PackedPixel;
import org.scenespan.frame.RowOrder;
import org.scenespan.frame.ToneResponse;

/** Measures and draws a picture of any depth while its rows of linear light pass by. */
final class LightRows {
  /** sRGB codes of light in steps that are finer than the darkest code. */
  private static final byte[] SRGB = new byte[1 << 14];

  static {
    for (int i = 0; i < SRGB.length; i++) {
      double light = (double) i / (SRGB.length - 1);
      SRGB[i] = (byte) Math.round(255 * ToneResponse.linearToSrgb(light));
    }
  }

  private final int channels;
  private final LightMeter meter;
  private final PreviewPainter painter;
  private final PreviewPainter.Part brush;
  private final RowOrder order;
  private final byte[] flags;
  private final int[] pixels;
  private int rows;

  /**
   * @param channels 3, or 1 of a grey picture
   */
  LightRows(
      int width, int height, FrameSource source, ColourSpace space, int channels, boolean drawn) {
    this.channels = channels;
    this.meter = new LightMeter(width, height, source, space);
    this.painter = drawn ? new PreviewPainter(width, height) : null;
    this.flags = new byte[width];
    this.brush = drawn ? painter.part() : null;
    this.order = new RowOrder(width);
    this.pixels = new int[order.length()];
  }

  void row(double[] light) {
    meter.row(light, channels, flags);
    if (painter != null) {
      draw(light);
    }
    rows++;
  }

  private void draw(double[] light) {
    int green = channels == 3 ? 1 : 0;
    int blue = channels == 3 ? 2 : 0;
    int marked = 0;
    for (int x = 0; x < order.width(); x++) {
      int i = x * channels;
      pixels[order.placeOf(x)] =
          PackedPixel.of(code(light[i]), code(light[i + green]), code(light[i + blue]), flags[x]);
      marked |= flags[x];
    }
    brush.row(rows, pixels, marked != 0, group -> true);
  }

  private static int code(double light) {
    double bounded = light > 0 ? Math.min(light, 1) : 0;
    return SRGB[(int) (bounded * (SRGB.length - 1) + 0.5)] & 0xff;
  }

  FrameMeasure measure() {
    return meter.measure();
  }

  Optional<Preview> preview(int orientation) {
    if (painter == null) {
      return Optional.empty();
    }
    brush.end();
    return Optional.of(painter.preview(orientation));
  }
}

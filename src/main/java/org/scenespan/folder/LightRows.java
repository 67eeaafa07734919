package org.scenespan.folder;

import java.util.Optional;
import org.scenespan.frame.ColourSpace;
import org.scenespan.frame.FrameMeasure;
import org.scenespan.frame.FrameSource;
import org.scenespan.frame.LightMeter;
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
  private final byte[] flags;
  private final byte[] codes;

  /**
   * @param channels 3, or 1 of a grey picture
   */
  LightRows(
      int width, int height, FrameSource source, ColourSpace space, int channels, boolean drawn) {
    this.channels = channels;
    this.meter = new LightMeter(width, height, source, space);
    this.painter = drawn ? new PreviewPainter(width, height) : null;
    this.flags = new byte[width];
    this.codes = new byte[width * channels];
  }

  void row(double[] light) {
    meter.row(light, channels, flags);
    if (painter != null) {
      for (int i = 0; i < codes.length; i++) {
        double bounded = light[i] > 0 ? Math.min(light[i], 1) : 0;
        codes[i] = SRGB[(int) (bounded * (SRGB.length - 1) + 0.5)];
      }
      painter.row(codes, channels, flags);
    }
  }

  FrameMeasure measure() {
    return meter.measure();
  }

  Optional<Preview> preview(int orientation) {
    return Optional.ofNullable(painter).map(drawn -> drawn.preview(orientation));
  }
}

package org.scenespan.folder;

import java.io.IOException;
import java.util.List;
import org.scenespan.frame.ColourSpace;
import org.scenespan.frame.FrameMetadata;
import org.scenespan.frame.FrameSource;
import org.scenespan.frame.Radiance;
import org.scenespan.frame.RadianceFormat;

/**
 * Measures a Radiance picture. Radiance has no saturation, so its brightest value is put just below
 * it: nothing is clipped, and 0 stops is the brightest light of the picture.
 */
final class RadianceReading {
  /** Bytes of a picture with the most pixels, four each, and its header and counts of runs. */
  private static final long MOST_BYTES = 5L * Radiance.MOST_PIXELS;

  /** So far below saturation, as a share of it, that no rounding lifts it there. */
  private static final double JUST_BELOW = 1 - 1e-6;

  private RadianceReading() {}

  static Measured of(Bytes bytes, boolean drawn) throws IOException, UnreadableFrame {
    Radiance radiance = parsed(bytes);
    double brightest = 0;
    for (int y = 0; y < radiance.height(); y++) {
      for (float value : radiance.row(y)) {
        brightest = Math.max(brightest, value);
      }
    }
    double scale =
        brightest > 0 && brightest < Double.POSITIVE_INFINITY ? JUST_BELOW / brightest : 1;
    LightRows rows =
        new LightRows(
            radiance.width(), radiance.height(), FrameSource.FULL, ColourSpace.LINEAR, 3, drawn);
    double[] light = new double[3 * radiance.width()];
    for (int y = 0; y < radiance.height(); y++) {
      float[] row = radiance.row(y);
      for (int i = 0; i < light.length; i++) {
        light[i] = row[i] * scale;
      }
      rows.row(light);
    }
    return new Measured(
        "radiance",
        FrameMetadata.NONE,
        rows.measure(),
        rows.preview(1),
        ColourSpace.LINEAR,
        List.of("Radiance has no saturation: 0 stops is its brightest value."));
  }

  /**
   * @throws UnreadableFrame if it is no whole picture
   */
  static Radiance parsed(Bytes bytes) throws IOException, UnreadableFrame {
    if (bytes.size() > MOST_BYTES) {
      throw new UnreadableFrame("it is bigger than " + (MOST_BYTES >> 20) + " MiB");
    }
    byte[] file = new byte[(int) bytes.size()];
    bytes.read(0, file, 0, file.length);
    try {
      return RadianceFormat.read(file);
    } catch (IllegalArgumentException e) {
      throw new UnreadableFrame(e.getMessage(), e);
    }
  }
}

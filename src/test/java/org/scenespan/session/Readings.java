package org.scenespan.session;

import java.time.Instant;
import java.time.LocalDateTime;
import java.time.ZoneOffset;
import java.util.Optional;
import org.scenespan.frame.CaptureTime;
import org.scenespan.frame.FrameMeasure;
import org.scenespan.frame.FrameMetadata;
import org.scenespan.frame.FrameReading;
import org.scenespan.frame.FrameSource;
import org.scenespan.frame.LogHistogram;
import org.scenespan.frame.PixelCounts;
import org.scenespan.light.Exposure;

/** Frames of a few pixels for the rules of a session. */
final class Readings {
  private Readings() {}

  /** A frame that holds its whole scene. */
  static FrameReading holding(String file, FrameMetadata metadata) {
    return reading(file, metadata, 0.05, 0.3);
  }

  /** A frame half of which is clipped. */
  static FrameReading clipping(String file, FrameMetadata metadata) {
    return reading(file, metadata, 0.1, 1);
  }

  /** A frame half of which is far below any signal-to-noise. */
  static FrameReading drowning(String file, FrameMetadata metadata) {
    return reading(file, metadata, 0.0002, 0.3);
  }

  private static FrameReading reading(
      String file, FrameMetadata metadata, double dark, double bright) {
    LogHistogram.Builder builder = new LogHistogram.Builder();
    builder.add(dark, 500);
    builder.add(bright, 500);
    LogHistogram histogram = builder.build();
    long clipped = histogram.count(LogHistogram.SATURATED_BIN);
    PixelCounts counts = new PixelCounts(clipped, clipped, clipped, clipped);
    FrameMeasure measure =
        new FrameMeasure(
            40,
            25,
            FrameSource.RAW,
            1000,
            counts,
            PixelCounts.NONE,
            histogram,
            histogram,
            histogram,
            histogram,
            histogram,
            0.01);
    return new FrameReading(
        file,
        "dng",
        metadata,
        measure,
        Optional.empty(),
        Optional.of(new FrameReading.Pictures("preview-" + file, "mask-" + file)));
  }

  /** The JPEG of a raw file's press, with the same numbers. */
  static FrameReading jpegOf(FrameReading raw, String file) {
    FrameMeasure all = raw.measure();
    FrameMeasure measure =
        new FrameMeasure(
            all.width(),
            all.height(),
            FrameSource.FULL,
            all.pixels(),
            all.clipped(),
            all.crushed(),
            all.red(),
            all.green(),
            all.blue(),
            all.luminance(),
            all.brightest(),
            all.sharpness());
    return new FrameReading(
        file, "jpeg", raw.metadata(), measure, Optional.empty(), Optional.empty());
  }

  static FrameMetadata metadata(Exposure exposure, Instant capturedAt) {
    LocalDateTime local = LocalDateTime.ofInstant(capturedAt, ZoneOffset.UTC);
    return new FrameMetadata(
        Optional.of(exposure.shutter()),
        Optional.of(exposure.aperture()),
        Optional.of(exposure.iso()),
        Optional.empty(),
        Optional.of(new CaptureTime(local, Optional.empty(), true)),
        1,
        Optional.of("Test camera"));
  }

  static FrameMetadata withoutTime(Exposure exposure) {
    return new FrameMetadata(
        Optional.of(exposure.shutter()),
        Optional.of(exposure.aperture()),
        Optional.of(exposure.iso()),
        Optional.empty(),
        Optional.empty(),
        1,
        Optional.empty());
  }
}

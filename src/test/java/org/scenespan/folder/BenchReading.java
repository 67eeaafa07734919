package org.scenespan.folder;

import java.io.IOException;
import java.nio.file.Path;

/** One reading of a frame with everything that is worked out from its pixels, for the benches. */
public final class BenchReading {
  private final FrameReader reader;

  private BenchReading(JpegDecoder decoder) {
    reader = new FrameReader(decoder);
  }

  /** As the program reads. */
  public static BenchReading own() {
    return new BenchReading(new QuickJpegDecoder());
  }

  /** By the plain path alone. */
  public static BenchReading plain() {
    return new BenchReading(new PlainJpegDecoder());
  }

  /**
   * Histograms, counts, sharpness, Exif, preview and clip mask, the last two in memory.
   *
   * @return pixels, so that the work cannot be left out
   */
  public long wholeResult(Path file) throws IOException, UnreadableFrame {
    try (Bytes bytes = Bytes.open(file)) {
      Measured measured = reader.measured(file, bytes, true);
      return measured.measure().pixels() + measured.preview().orElseThrow().mask().getWidth();
    }
  }
}

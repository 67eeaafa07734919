package org.scenespan.control;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.SplittableRandom;

/** Fifteen to seventeen stops in 48 × 32 pixels. */
final class SmallScene {
  private SmallScene() {}

  static Path write(Path file, SplittableRandom random) throws IOException {
    int width = 48;
    int height = 32;
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    bytes.writeBytes(
        ("#?RADIANCE\nFORMAT=32-bit_rle_rgbe\n\n-Y " + height + " +X " + width + "\n")
            .getBytes(StandardCharsets.US_ASCII));
    double stops = 15 + 2 * random.nextDouble();
    for (int y = 0; y < height; y++) {
      for (int x = 0; x < width; x++) {
        double level = stops * (y * width + x) / (width * height - 1.0);
        int exponent = 128 - 8 + (int) Math.floor(level);
        int mantissa = (int) Math.min(255, 128 * Math.pow(2, level - Math.floor(level)));
        // Flat pixels, none of which may look like the start of a run (2 2 or 1 1 1).
        bytes.write(mantissa);
        bytes.write(mantissa);
        bytes.write(mantissa);
        bytes.write(exponent);
      }
    }
    Files.write(file, bytes.toByteArray());
    return file;
  }
}

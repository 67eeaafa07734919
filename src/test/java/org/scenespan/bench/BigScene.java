package org.scenespan.bench;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;

/**
 * Writes a scene of 61 megapixels and sixteen stops as a Radiance file, for the proof's memory: a
 * ramp from the dark left to the bright right with some texture and a tint by rows.
 */
public final class BigScene {
  /** 9504 × 6336 is 60.2 million pixels, what a camera of 61 megapixels stores. */
  private static final int WIDTH = 9504;

  private static final int HEIGHT = 6336;
  private static final double STOPS = 16;

  private BigScene() {}

  /** The file to write. */
  public static void main(String[] arguments) throws IOException {
    try (OutputStream out =
        new BufferedOutputStream(Files.newOutputStream(Path.of(arguments[0])), 1 << 20)) {
      String head = "#?RADIANCE\nFORMAT=32-bit_rle_rgbe\n\n-Y " + HEIGHT + " +X " + WIDTH + "\n";
      out.write(head.getBytes(StandardCharsets.US_ASCII));
      byte[] row = new byte[4 * WIDTH];
      for (int y = 0; y < HEIGHT; y++) {
        for (int x = 0; x < WIDTH; x++) {
          double stops = STOPS * x / WIDTH + 0.3 * ((x / 16 + y / 16) % 3);
          int mantissa = (int) Math.min(255, 128 * Math.pow(2, stops - Math.floor(stops)));
          // Flat pixels: none may look like the start of a run, so no mantissa is 1 or 2.
          row[4 * x] = (byte) mantissa;
          row[4 * x + 1] = (byte) Math.max(64, mantissa - y % 32);
          row[4 * x + 2] = (byte) Math.max(64, mantissa - y / 200);
          row[4 * x + 3] = (byte) (120 + (int) Math.floor(stops));
        }
        out.write(row);
      }
    }
  }
}

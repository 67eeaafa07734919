package org.scenespan.proof;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.util.List;

/**
 * Writes a Radiance picture with run lengths (G. Ward, "Real Pixels", Graphics Gems II, 1991, and
 * the format description of the Radiance reference manual), row by row from the top.
 */
final class RadianceWriter {
  /** Widths for which run lengths exist; others are written flat. */
  private static final int NARROWEST_RUNS = 8;

  private static final int WIDEST_RUNS = 32_767;

  /** A shorter run costs more than it saves. */
  private static final int SHORTEST_RUN = 4;

  private static final int LONGEST_PIECE = 127;
  private static final int LONGEST_LITERAL = 128;

  private final OutputStream out;
  private final int width;
  private final byte[] rgbe;
  private final byte[] plane;
  private final byte[] packed;

  /**
   * @param exposure by which the pixels were multiplied: divided by it they are W/(sr·m²)
   * @param comments lines of plain ASCII
   */
  RadianceWriter(OutputStream out, int width, int height, double exposure, List<String> comments)
      throws IOException {
    this.out = out;
    this.width = width;
    this.rgbe = new byte[4 * width];
    this.plane = new byte[width];
    this.packed = new byte[2 * width + 2];
    StringBuilder header = new StringBuilder("#?RADIANCE\n");
    comments.forEach(comment -> header.append("# ").append(comment).append('\n'));
    header.append("EXPOSURE=").append((float) exposure).append('\n');
    header.append("FORMAT=32-bit_rle_rgbe\n\n");
    header.append("-Y ").append(height).append(" +X ").append(width).append('\n');
    out.write(header.toString().getBytes(StandardCharsets.US_ASCII));
  }

  /**
   * @param at where the row begins
   */
  void row(float[] rgb, int at) throws IOException {
    for (int x = 0; x < width; x++) {
      encode(rgb, at + 3 * x, rgbe, 4 * x);
    }
    if (width < NARROWEST_RUNS || width > WIDEST_RUNS) {
      out.write(rgbe);
      return;
    }
    out.write(new byte[] {2, 2, (byte) (width >> 8), (byte) width});
    for (int component = 0; component < 4; component++) {
      for (int x = 0; x < width; x++) {
        plane[x] = rgbe[4 * x + component];
      }
      out.write(packed, 0, pack());
    }
  }

  /** A shared exponent of the brightest channel; a reader adds half a step to each mantissa. */
  private static void encode(float[] rgb, int from, byte[] rgbe, int to) {
    double most = Math.max(rgb[from], Math.max(rgb[from + 1], rgb[from + 2]));
    if (!(most > 1e-32)) {
      rgbe[to] = rgbe[to + 1] = rgbe[to + 2] = rgbe[to + 3] = 0;
      return;
    }
    int exponent = Math.getExponent(most) + 1;
    double scale = Math.scalb(256.0, -exponent);
    for (int c = 0; c < 3; c++) {
      rgbe[to + c] = (byte) Math.max(0, Math.min(255, (int) (rgb[from + c] * scale)));
    }
    rgbe[to + 3] = (byte) (exponent + 128);
  }

  private int pack() {
    int size = 0;
    for (int x = 0; x < width; ) {
      int run = runAt(x);
      if (run >= SHORTEST_RUN) {
        packed[size++] = (byte) (128 + run);
        packed[size++] = plane[x];
        x += run;
        continue;
      }
      int end = x;
      while (end < width && end - x < LONGEST_LITERAL && runAt(end) < SHORTEST_RUN) {
        end++;
      }
      packed[size++] = (byte) (end - x);
      System.arraycopy(plane, x, packed, size, end - x);
      size += end - x;
      x = end;
    }
    return size;
  }

  private int runAt(int x) {
    int end = x + 1;
    while (end < width && end - x < LONGEST_PIECE && plane[end] == plane[x]) {
      end++;
    }
    return end - x;
  }
}

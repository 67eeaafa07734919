package org.scenespan.frame;

import java.nio.charset.StandardCharsets;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Reads Radiance pictures strictly (G. Ward, "Real Pixels", Graphics Gems II, 1991, and the format
 * description of the Radiance reference manual): flat, old and new run lengths, RGBE and XYZE, all
 * eight orientations, EXPOSURE and COLORCORR.
 *
 * <p>Own code, because a general image reader maps the tones to eight bits and takes a cut file for
 * a whole one.
 */
public final class RadianceFormat {
  private static final int LONGEST_HEADER_BYTES = 65_536;

  /** Widths for which the new run lengths exist. */
  private static final int NARROWEST_RUNS = 8;

  private static final int WIDEST_RUNS = 32_767;
  private static final Pattern RESOLUTION =
      Pattern.compile("([+-])([XY]) (\\d{1,9}) ([+-])([XY]) (\\d{1,9})");

  private final byte[] file;
  private int at;
  private int headerBytes;
  private final double[] scale = {1, 1, 1};
  private boolean xyz;

  private RadianceFormat(byte[] file) {
    this.file = file;
  }

  /**
   * @param file a whole file's bytes
   * @throws IllegalArgumentException if it is no Radiance picture or is cut short; the message says
   *     why in one line, without the file's name
   */
  public static Radiance read(byte[] file) {
    return new RadianceFormat(file).read();
  }

  private Radiance read() {
    readHeader();
    String line = readLine();
    Matcher size = RESOLUTION.matcher(line);
    if (!size.matches() || size.group(2).equals(size.group(5))) {
      throw new IllegalArgumentException("\"" + printable(line) + "\" is no size of a picture");
    }
    int scanlines = Integer.parseInt(size.group(3));
    int length = Integer.parseInt(size.group(6));
    boolean sidesFit = isSide(scanlines) && isSide(length);
    if (!(sidesFit && (long) scanlines * length <= Radiance.MOST_PIXELS)) {
      throw new IllegalArgumentException(
          "its size ("
              + length
              + " x "
              + scanlines
              + ") must be 1 to 65535 pixels a side and at most 64 million in all");
    }
    // Line by line, so that a short file with a big claim fails before the memory is taken.
    float[][] read = new float[scanlines][];
    byte[] codes = new byte[4 * length];
    for (int y = 0; y < scanlines; y++) {
      readScanline(codes, length);
      read[y] = decode(codes, length);
    }
    return upright(read, length, size);
  }

  private static boolean isSide(int pixels) {
    return pixels > 0 && pixels <= Radiance.LONGEST_SIDE;
  }

  private void readHeader() {
    // The program's name after "#?" is free; RADIANCE and RGBE are usual.
    if (file.length < 2 || file[at++] != '#' || file[at++] != '?') {
      throw new IllegalArgumentException("it does not begin as a Radiance picture does");
    }
    for (String line = readLine(); !line.isEmpty(); line = readLine()) {
      int equals = line.indexOf('=');
      String key = equals < 0 ? "" : line.substring(0, equals).strip();
      String value = line.substring(equals + 1).strip();
      switch (key) {
        case "FORMAT" -> xyz = isXyz(value);
        case "EXPOSURE" -> divide(value, 1);
        case "COLORCORR" -> divide(value, 3);
        default -> {} // A comment, or a word that does not change the light.
      }
    }
  }

  private static boolean isXyz(String format) {
    if (!format.equals("32-bit_rle_rgbe") && !format.equals("32-bit_rle_xyze")) {
      throw new IllegalArgumentException("its format is \"" + printable(format) + "\"");
    }
    return format.endsWith("xyze");
  }

  /** Both keys tell what the pixels were multiplied with, and each further line multiplies on. */
  private void divide(String value, int numbers) {
    String[] parts = value.split("\\s+");
    for (int i = 0; i < 3; i++) {
      double factor = parts.length == numbers ? number(parts[i % numbers]) : Double.NaN;
      if (!(factor > 1e-30 && factor < 1e30)) {
        throw new IllegalArgumentException(
            "an exposure of \"" + printable(value) + "\" is out of reason");
      }
      scale[i] /= factor;
    }
  }

  private static double number(String text) {
    try {
      return Double.parseDouble(text);
    } catch (NumberFormatException e) {
      return Double.NaN;
    }
  }

  private String readLine() {
    StringBuilder line = new StringBuilder();
    for (int c = readByte(); c != '\n'; c = readByte()) {
      if (++headerBytes > LONGEST_HEADER_BYTES) {
        throw new IllegalArgumentException("its header does not end");
      }
      line.append((char) c);
    }
    int end = line.length();
    return end > 0 && line.charAt(end - 1) == '\r' ? line.substring(0, end - 1) : line.toString();
  }

  private int readByte() {
    if (at >= file.length) {
      throw cutShort();
    }
    return file[at++] & 0xff;
  }

  private void readScanline(byte[] codes, int length) {
    readFully(codes, 0, 4);
    boolean runs = codes[0] == 2 && codes[1] == 2 && codes[2] >= 0;
    if (!runs || length < NARROWEST_RUNS || length > WIDEST_RUNS) {
      readOldRuns(codes, length);
    } else if (((codes[2] & 0xff) << 8 | codes[3] & 0xff) == length) {
      readNewRuns(codes, length);
    } else {
      throw new IllegalArgumentException("a row is not as long as the picture is wide");
    }
  }

  /** Pixel by pixel; mantissas of 1, 1, 1 repeat the last one, the exponent tells how often. */
  private void readOldRuns(byte[] codes, int length) {
    int shift = 0;
    int x = 0;
    boolean have = true;
    byte[] pixel = {codes[0], codes[1], codes[2], codes[3]};
    while (x < length) {
      if (!have) {
        readFully(pixel, 0, 4);
      }
      have = false;
      if (pixel[0] == 1 && pixel[1] == 1 && pixel[2] == 1) {
        int count = shift > 16 ? 0 : (pixel[3] & 0xff) << shift;
        if (x == 0 || shift > 16 || count > length - x) {
          throw new IllegalArgumentException("a run of pixels does not fit its row");
        }
        for (int i = 0; i < count; i++, x++) {
          System.arraycopy(codes, 4 * (x - 1), codes, 4 * x, 4);
        }
        shift += 8;
      } else {
        System.arraycopy(pixel, 0, codes, 4 * x, 4);
        x++;
        shift = 0;
      }
    }
  }

  /** The four bytes of the pixels apart, each as runs (above 128) and as they are. */
  private void readNewRuns(byte[] codes, int length) {
    byte[] piece = new byte[128];
    for (int part = 0; part < 4; part++) {
      int x = 0;
      while (x < length) {
        int count = readByte();
        boolean run = count > 128;
        count = run ? count - 128 : count;
        if (!(count > 0 && count <= length - x)) {
          throw new IllegalArgumentException("a run of pixels does not fit its row");
        }
        readFully(piece, 0, run ? 1 : count);
        for (int i = 0; i < count; i++, x++) {
          codes[4 * x + part] = piece[run ? 0 : i];
        }
      }
    }
  }

  private void readFully(byte[] target, int from, int count) {
    if (count > file.length - at) {
      throw cutShort();
    }
    System.arraycopy(file, at, target, from, count);
    at += count;
  }

  private static IllegalArgumentException cutShort() {
    return new IllegalArgumentException("the file is cut short");
  }

  private float[] decode(byte[] codes, int length) {
    float[] row = new float[3 * length];
    for (int x = 0; x < length; x++) {
      int exponent = codes[4 * x + 3] & 0xff;
      if (exponent == 0) {
        continue;
      }
      // The writer cuts the mantissa off, so half a step more is the middle of what it stood for.
      double step = Math.scalb(1.0, exponent - 136);
      double one = ((codes[4 * x] & 0xff) + 0.5) * step * scale[0];
      double two = ((codes[4 * x + 1] & 0xff) + 0.5) * step * scale[1];
      double three = ((codes[4 * x + 2] & 0xff) + 0.5) * step * scale[2];
      if (xyz) {
        // CIE XYZ to BT.709 primaries with D65 (IEC 61966-2-1, Annex).
        row[3 * x] = positive(3.2406 * one - 1.5372 * two - 0.4986 * three);
        row[3 * x + 1] = positive(-0.9689 * one + 1.8758 * two + 0.0415 * three);
        row[3 * x + 2] = positive(0.0557 * one - 0.2040 * two + 1.0570 * three);
      } else {
        row[3 * x] = positive(one);
        row[3 * x + 1] = positive(two);
        row[3 * x + 2] = positive(three);
      }
    }
    return row;
  }

  private static float positive(double value) {
    return (float) Math.max(0, value);
  }

  /** Turns the scanlines as read into rows from the top, each from the left. */
  private static Radiance upright(float[][] read, int length, Matcher size) {
    boolean byRows = size.group(2).equals("Y");
    // Y grows upwards and X to the right: "-Y, +X" is how a page is read.
    boolean linesReversed = size.group(1).equals(byRows ? "+" : "-");
    boolean pixelsReversed = size.group(4).equals(byRows ? "-" : "+");
    if (byRows && !linesReversed && !pixelsReversed) {
      return new Radiance(length, read);
    }
    int width = byRows ? length : read.length;
    int height = byRows ? read.length : length;
    float[][] rows = new float[height][3 * width];
    for (int line = 0; line < read.length; line++) {
      int across = linesReversed ? read.length - 1 - line : line;
      for (int i = 0; i < length; i++) {
        int along = pixelsReversed ? length - 1 - i : i;
        float[] row = rows[byRows ? across : along];
        System.arraycopy(read[line], 3 * i, row, 3 * (byRows ? along : across), 3);
      }
    }
    return new Radiance(width, rows);
  }

  private static String printable(String text) {
    String cut = text.length() > 40 ? text.substring(0, 40) + "…" : text;
    byte[] ascii = cut.getBytes(StandardCharsets.US_ASCII);
    return new String(ascii, StandardCharsets.US_ASCII).replaceAll("[^ -~]", "?");
  }
}

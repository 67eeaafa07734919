package org.scenespan.folder;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.zip.CRC32;
import java.util.zip.DataFormatException;
import java.util.zip.Inflater;
import org.scenespan.frame.ColourSpace;

/**
 * A PNG picture (ISO/IEC 15948 and W3C's third edition) as rows of linear light: every kind of
 * colour, 1 to 16 bits, interlaced or not. Opacity is left out: what is measured are the colours as
 * they are stored.
 */
final class PngPicture {
  private static final int IHDR = 0x49484452;
  private static final int PLTE = 0x504c5445;
  private static final int IDAT = 0x49444154;
  private static final int IEND = 0x49454e44;
  private static final int MAX_CHUNKS = 1 << 20;

  /** Deflate's best gain is 1032 to 1: fewer bytes cannot hold the picture. */
  private static final long DEFLATE_GAIN = 1032;

  /** Adam7: the first column and row of each pass, and the steps. */
  private static final int[][] PASSES = {
    {0, 0, 8, 8}, {4, 0, 8, 8}, {0, 4, 4, 8}, {2, 0, 4, 4}, {0, 2, 2, 4}, {1, 0, 2, 2}, {0, 1, 1, 2}
  };

  /** A piece of the file between two others. */
  record Chunk(int type, long position, int length) {}

  /** Takes the picture's rows from the top to the bottom. */
  interface Rows {
    void row(double[] light);
  }

  private final Bytes bytes;
  private final List<Chunk> chunks;
  private final int width;
  private final int height;
  private final int bits;
  private final int kind;
  private final boolean interlaced;

  PngPicture(Bytes bytes) throws IOException, UnreadableFrame {
    this.bytes = bytes;
    this.chunks = chunks(bytes);
    Chunk header = chunks.get(0);
    this.width = s32(header.position);
    this.height = s32(header.position + 4);
    this.bits = bytes.u8(header.position + 8);
    this.kind = bytes.u8(header.position + 9);
    this.interlaced = bytes.u8(header.position + 12) == 1;
    check(header);
  }

  private void check(Chunk header) throws IOException, UnreadableFrame {
    PixelLimit.check(width, height);
    boolean known =
        switch (kind) {
          case 0 -> bits == 1 || bits == 2 || bits == 4 || bits == 8 || bits == 16;
          case 3 -> bits == 1 || bits == 2 || bits == 4 || bits == 8;
          case 2, 4, 6 -> bits == 8 || bits == 16;
          default -> false;
        };
    boolean usual =
        bytes.u8(header.position + 10) == 0
            && bytes.u8(header.position + 11) == 0
            && bytes.u8(header.position + 12) <= 1;
    if (!known || !usual) {
      throw new UnreadableFrame("the PNG's header makes no sense");
    }
    long packed =
        chunks.stream().filter(chunk -> chunk.type == IDAT).mapToLong(Chunk::length).sum();
    if (packed * DEFLATE_GAIN < (long) rowBytes(width) * height) {
      throw new UnreadableFrame("the PNG is cut off: too few bytes for its size");
    }
  }

  /** All chunks to the end mark, each with its checksum right. */
  private static List<Chunk> chunks(Bytes bytes) throws IOException, UnreadableFrame {
    List<Chunk> chunks = new ArrayList<>();
    byte[] piece = new byte[1 << 16];
    long position = 8;
    while (true) {
      if (position + 12 > bytes.size()) {
        throw new UnreadableFrame("the PNG is cut off: its end mark is missing");
      }
      long length = (long) bytes.u16(position) << 16 | bytes.u16(position + 2);
      int type = bytes.u16(position + 4) << 16 | bytes.u16(position + 6);
      if (position + 12 + length > bytes.size()) {
        throw new UnreadableFrame("the PNG is cut off: its end mark is missing");
      }
      if (chunks.isEmpty() && (type != IHDR || length != 13) || chunks.size() == MAX_CHUNKS) {
        throw new UnreadableFrame("the PNG does not begin with its header, or has no end");
      }
      CRC32 sum = new CRC32();
      for (long done = 0; done < length + 4; ) {
        int count = (int) Math.min(piece.length, length + 4 - done);
        bytes.read(position + 4 + done, piece, 0, count);
        sum.update(piece, 0, count);
        done += count;
      }
      long written =
          (long) bytes.u16(position + 8 + length) << 16 | bytes.u16(position + 10 + length);
      if (sum.getValue() != written) {
        throw new UnreadableFrame("the PNG is damaged: a checksum is wrong");
      }
      chunks.add(new Chunk(type, position + 8, (int) length));
      if (type == IEND) {
        return chunks;
      }
      position += 12 + length;
    }
  }

  List<Chunk> chunks() {
    return chunks;
  }

  int width() {
    return width;
  }

  int height() {
    return height;
  }

  /** Channels of light: an opacity is none, a palette's colours are three. */
  int channels() {
    return kind == 0 || kind == 4 ? 1 : 3;
  }

  /** Numbers stored for a pixel. */
  private int stored() {
    return switch (kind) {
      case 2 -> 3;
      case 4 -> 2;
      case 6 -> 4;
      default -> 1;
    };
  }

  private int rowBytes(int pixels) {
    return (int) (((long) pixels * stored() * bits + 7) / 8);
  }

  /** Hands over every row as linear light of a colour space. */
  void rows(ColourSpace space, Rows sink) throws IOException, UnreadableFrame {
    double[] light = new double[width * channels()];
    double[] response = response(space);
    try (Inflated data = new Inflated()) {
      if (!interlaced) {
        byte[] row = new byte[rowBytes(width)];
        byte[] above = new byte[row.length];
        for (int y = 0; y < height; y++) {
          data.row(row, above, row.length);
          lighten(row, response, light);
          sink.row(light);
          byte[] next = above;
          above = row;
          row = next;
        }
      } else {
        byte[] picture = interlaced(data);
        byte[] row = new byte[rowBytes(width)];
        for (int y = 0; y < height; y++) {
          System.arraycopy(picture, y * row.length, row, 0, row.length);
          lighten(row, response, light);
          sink.row(light);
        }
      }
      data.end();
    }
  }

  private byte[] interlaced(Inflated data) throws IOException, UnreadableFrame {
    int stride = rowBytes(width);
    if ((long) stride * height
        > Math.min(Integer.MAX_VALUE, Runtime.getRuntime().maxMemory() / 2)) {
      throw new UnreadableFrame("it takes " + ((long) stride * height >> 20) + " MiB to decode");
    }
    byte[] picture = new byte[stride * height];
    int pixelBits = stored() * bits;
    for (int[] pass : PASSES) {
      int columns = (width - pass[0] + pass[2] - 1) / pass[2];
      int lines = (height - pass[1] + pass[3] - 1) / pass[3];
      if (columns <= 0 || lines <= 0) {
        continue;
      }
      byte[] row = new byte[rowBytes(columns)];
      byte[] above = new byte[row.length];
      for (int line = 0; line < lines; line++) {
        data.row(row, above, row.length);
        int target = (pass[1] + line * pass[3]) * stride;
        for (int x = 0; x < columns; x++) {
          copy(row, x, picture, target, pass[0] + x * pass[2], pixelBits);
        }
        byte[] next = above;
        above = row;
        row = next;
      }
    }
    return picture;
  }

  private static void copy(byte[] from, int x, byte[] to, int target, int place, int pixelBits) {
    if (pixelBits >= 8) {
      int count = pixelBits / 8;
      System.arraycopy(from, x * count, to, target + place * count, count);
      return;
    }
    int mask = (1 << pixelBits) - 1;
    int value = from[x * pixelBits / 8] >> 8 - pixelBits - x * pixelBits % 8 & mask;
    to[target + place * pixelBits / 8] |= (byte) (value << 8 - pixelBits - place * pixelBits % 8);
  }

  /** Light of each code, or of each colour of the palette. */
  private double[] response(ColourSpace space) throws IOException, UnreadableFrame {
    if (kind != 3) {
      double[] response = new double[1 << bits];
      for (int code = 0; code < response.length; code++) {
        response[code] = space.linear((double) code / (response.length - 1));
      }
      return response;
    }
    Chunk palette =
        chunks.stream()
            .filter(chunk -> chunk.type == PLTE)
            .findFirst()
            .orElseThrow(() -> new UnreadableFrame("the PNG has no palette"));
    double[] response = new double[palette.length / 3 * 3];
    for (int i = 0; i < response.length; i++) {
      response[i] = space.linear(bytes.u8(palette.position + i) / 255.0);
    }
    return response;
  }

  private void lighten(byte[] row, double[] response, double[] light) throws UnreadableFrame {
    int channels = channels();
    int stored = stored();
    for (int x = 0; x < width; x++) {
      if (kind == 3) {
        int index = code(row, x);
        if (3 * index + 3 > response.length) {
          throw new UnreadableFrame("the PNG is damaged: a colour is not in its palette");
        }
        System.arraycopy(response, 3 * index, light, 3 * x, 3);
        continue;
      }
      for (int channel = 0; channel < channels; channel++) {
        light[x * channels + channel] = response[code(row, x * stored + channel)];
      }
    }
  }

  private int code(byte[] row, int index) {
    if (bits == 8) {
      return row[index] & 0xff;
    }
    if (bits == 16) {
      return (row[2 * index] & 0xff) << 8 | row[2 * index + 1] & 0xff;
    }
    return row[index * bits / 8] >> 8 - bits - index * bits % 8 & (1 << bits) - 1;
  }

  private int s32(long at) throws IOException {
    return bytes.u16(at) << 16 | bytes.u16(at + 2);
  }

  /** The picture's data as it comes out of its chunks, filters undone. */
  private final class Inflated implements AutoCloseable {
    private final Inflater inflater = new Inflater();
    private final byte[] input = new byte[1 << 16];
    private final int step = Math.max(1, stored() * bits / 8);
    private final byte[] filter = new byte[1];
    private int chunk;
    private int taken;

    void row(byte[] row, byte[] above, int length) throws IOException, UnreadableFrame {
      fill(filter, 1);
      fill(row, length);
      switch (filter[0]) {
        case 0 -> {}
        case 1 -> {
          for (int i = step; i < length; i++) {
            row[i] += row[i - step];
          }
        }
        case 2 -> {
          for (int i = 0; i < length; i++) {
            row[i] += above[i];
          }
        }
        case 3 -> {
          for (int i = 0; i < length; i++) {
            int left = i < step ? 0 : row[i - step] & 0xff;
            row[i] += (byte) (left + (above[i] & 0xff) >> 1);
          }
        }
        case 4 -> {
          for (int i = 0; i < length; i++) {
            int left = i < step ? 0 : row[i - step] & 0xff;
            int corner = i < step ? 0 : above[i - step] & 0xff;
            row[i] += (byte) paeth(left, above[i] & 0xff, corner);
          }
        }
        default -> throw new UnreadableFrame("the PNG is damaged: a filter is unknown");
      }
    }

    private static int paeth(int left, int above, int corner) {
      int a = Math.abs(above - corner);
      int b = Math.abs(left - corner);
      int c = Math.abs(left + above - 2 * corner);
      return a <= b && a <= c ? left : b <= c ? above : corner;
    }

    private void fill(byte[] into, int length) throws IOException, UnreadableFrame {
      int to = 0;
      try {
        while (to < length) {
          int count = inflater.inflate(into, to, length - to);
          to += count;
          if (count == 0 && (inflater.finished() || inflater.needsDictionary() || !feed())) {
            throw new UnreadableFrame("the PNG is damaged: its data ends too early");
          }
        }
      } catch (DataFormatException e) {
        throw new UnreadableFrame("the PNG is damaged: " + e.getMessage(), e);
      }
    }

    private boolean feed() throws IOException {
      while (chunk < chunks.size()) {
        Chunk one = chunks.get(chunk);
        if (one.type != IDAT || taken == one.length) {
          chunk++;
          taken = 0;
          continue;
        }
        int count = Math.min(input.length, one.length - taken);
        bytes.read(one.position + taken, input, 0, count);
        taken += count;
        inflater.setInput(input, 0, count);
        return true;
      }
      return false;
    }

    /** Whatever is left must lead to the data's own checksum. */
    void end() throws IOException, UnreadableFrame {
      try {
        byte[] rest = new byte[64];
        for (int i = 0; i < 64 && !inflater.finished(); i++) {
          if (inflater.inflate(rest) == 0 && !inflater.finished() && !feed()) {
            return;
          }
        }
      } catch (DataFormatException e) {
        throw new UnreadableFrame("the PNG is damaged: " + e.getMessage(), e);
      }
    }

    @Override
    public void close() {
      inflater.end();
    }
  }
}

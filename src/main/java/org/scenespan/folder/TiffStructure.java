package org.scenespan.folder;

import java.io.IOException;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * A TIFF file's directories (TIFF 6.0, section 2) with everything they point to checked to lie
 * inside of the file: that is a TIFF's only end mark.
 */
final class TiffStructure {
  static final int STRIP_OFFSETS = 273;
  static final int STRIP_BYTES = 279;
  static final int TILE_OFFSETS = 324;
  static final int TILE_BYTES = 325;
  static final int ICC_PROFILE = 34675;
  private static final int SUB_DIRECTORIES = 330;
  private static final int JPEG_OFFSET = 513;
  private static final int JPEG_BYTES = 514;
  private static final int EXIF_DIRECTORY = 34665;
  private static final int MAX_DIRECTORIES = 64;
  private static final int MAX_FIELDS = 4096;

  /** A 200-megapixel frame in strips of a single row has fewer. */
  private static final int MAX_VALUES = 1 << 20;

  /** A colour profile with a table of colours has a few megabytes. */
  private static final int MAX_RAW_BYTES = 1 << 24;

  /** Bytes to a value of each field type, 1 to 12. */
  private static final int[] TYPE_BYTES = {0, 1, 1, 2, 4, 8, 1, 1, 2, 4, 8, 4, 8, 4};

  private final Bytes bytes;
  private final boolean bigEndian;
  private final List<Directory> directories = new ArrayList<>();

  /** A field of a directory; its values stand at the position. */
  private record Field(int type, long count, long position) {}

  /** One directory's fields by tag. */
  final class Directory {
    private final Map<Integer, Field> fields = new HashMap<>();

    boolean has(int tag) {
      return fields.containsKey(tag);
    }

    /** A field's values as numbers, rationals divided; empty where the field is missing. */
    double[] numbers(int tag) throws IOException, UnreadableFrame {
      Field field = fields.get(tag);
      if (field == null) {
        return new double[0];
      }
      if (field.count > MAX_VALUES) {
        throw new UnreadableFrame("tag " + tag + " has " + field.count + " values");
      }
      double[] values = new double[(int) field.count];
      for (int i = 0; i < values.length; i++) {
        values[i] = number(field.type, field.position + (long) i * TYPE_BYTES[field.type]);
      }
      return values;
    }

    /** A field's first value as a whole number, or another where the field is missing. */
    long whole(int tag, long otherwise) throws IOException, UnreadableFrame {
      double[] values = numbers(tag);
      return values.length == 0 ? otherwise : (long) values[0];
    }

    /** A field's values as bytes; nothing where it is missing or not of bytes. */
    Optional<byte[]> raw(int tag) throws IOException, UnreadableFrame {
      Field field = fields.get(tag);
      if (field == null || TYPE_BYTES[field.type] != 1) {
        return Optional.empty();
      }
      if (field.count > MAX_RAW_BYTES) {
        throw new UnreadableFrame("tag " + tag + " has " + field.count + " bytes");
      }
      byte[] values = new byte[(int) field.count];
      bytes.read(field.position, values, 0, values.length);
      return Optional.of(values);
    }

    private void checkData(int offsets, int lengths, String what)
        throws IOException, UnreadableFrame {
      double[] starts = numbers(offsets);
      double[] sizes = numbers(lengths);
      if (starts.length == 0) {
        return;
      }
      if (sizes.length != starts.length) {
        throw new UnreadableFrame("its " + what + " have " + sizes.length + " lengths");
      }
      for (int i = 0; i < starts.length; i++) {
        if (!(starts[i] >= 8 && starts[i] + sizes[i] <= bytes.size())) {
          throw new UnreadableFrame("its " + what + " go beyond the end of the file");
        }
      }
    }
  }

  private TiffStructure(Bytes bytes) throws IOException {
    this.bytes = bytes;
    this.bigEndian = bytes.u8(0) == 'M';
  }

  /**
   * @throws UnreadableFrame if a part is missing or makes no sense
   */
  static TiffStructure of(Bytes bytes) throws IOException, UnreadableFrame {
    if (bytes.size() < 8) {
      throw new UnreadableFrame("it is no TIFF: it is too short");
    }
    TiffStructure tiff = new TiffStructure(bytes);
    tiff.walk();
    return tiff;
  }

  boolean isBigEndian() {
    return bigEndian;
  }

  /** The directories in the order of the file's chain, each before its sub-directories. */
  List<Directory> directories() {
    return List.copyOf(directories);
  }

  /** The first directory with a value in a tag. */
  Optional<Directory> with(int tag, long value) throws IOException, UnreadableFrame {
    for (Directory directory : directories) {
      if (directory.whole(tag, -1) == value) {
        return Optional.of(directory);
      }
    }
    return Optional.empty();
  }

  private void walk() throws IOException, UnreadableFrame {
    Deque<Long> open = new ArrayDeque<>();
    Set<Long> seen = new HashSet<>();
    open.add(u32(4));
    while (!open.isEmpty()) {
      long position = open.removeFirst();
      if (!seen.add(position)) {
        throw new UnreadableFrame("its directories point at each other in a circle");
      }
      if (seen.size() > MAX_DIRECTORIES) {
        throw new UnreadableFrame("it has more than " + MAX_DIRECTORIES + " directories");
      }
      Directory directory = new Directory();
      long next = readDirectory(position, directory);
      directories.add(directory);
      directory.checkData(STRIP_OFFSETS, STRIP_BYTES, "strips");
      directory.checkData(TILE_OFFSETS, TILE_BYTES, "tiles");
      directory.checkData(JPEG_OFFSET, JPEG_BYTES, "embedded JPEG");
      if (next != 0) {
        open.addFirst(next);
      }
      for (double inner : directory.numbers(SUB_DIRECTORIES)) {
        open.addLast((long) inner);
      }
      for (double inner : directory.numbers(EXIF_DIRECTORY)) {
        open.addLast((long) inner);
      }
    }
  }

  /** Reads a directory's fields and answers the position of the next one, 0 for none. */
  private long readDirectory(long position, Directory directory)
      throws IOException, UnreadableFrame {
    if (!(position >= 8 && position + 2 <= bytes.size())) {
      throw new UnreadableFrame("a directory lies beyond the end of the file");
    }
    int count = u16(position);
    if (!(count > 0 && count <= MAX_FIELDS)) {
      throw new UnreadableFrame("a directory has " + count + " fields");
    }
    if (position + 2 + 12L * count + 4 > bytes.size()) {
      throw new UnreadableFrame("a directory goes beyond the end of the file");
    }
    for (int i = 0; i < count; i++) {
      readField(position + 2 + 12L * i, directory);
    }
    return u32(position + 2 + 12L * count);
  }

  private void readField(long at, Directory directory) throws IOException, UnreadableFrame {
    int tag = u16(at);
    int type = u16(at + 2);
    long values = u32(at + 4);
    if (type == 0 || type >= TYPE_BYTES.length) {
      return; // TIFF 6.0: a reader skips over field types that it does not know.
    }
    long length = values * TYPE_BYTES[type];
    long position = length <= 4 ? at + 8 : u32(at + 8);
    if (!(position + length <= bytes.size())) {
      throw new UnreadableFrame("the values of tag " + tag + " go beyond the end of the file");
    }
    directory.fields.put(tag, new Field(type, values, position));
  }

  private double number(int type, long at) throws IOException {
    return switch (type) {
      case 1, 2, 7 -> bytes.u8(at);
      case 3 -> u16(at);
      case 4, 13 -> u32(at);
      case 5 -> (double) u32(at) / u32(at + 4);
      case 6 -> (byte) bytes.u8(at);
      case 8 -> (short) u16(at);
      case 9 -> (int) u32(at);
      case 10 -> (double) (int) u32(at) / (int) u32(at + 4);
      case 11 -> Float.intBitsToFloat((int) u32(at));
      default -> Double.longBitsToDouble(u64(at));
    };
  }

  private int u16(long at) throws IOException {
    return bigEndian ? bytes.u16(at) : bytes.u8(at) | bytes.u8(at + 1) << 8;
  }

  private long u32(long at) throws IOException {
    return bigEndian ? (long) u16(at) << 16 | u16(at + 2) : (long) u16(at + 2) << 16 | u16(at);
  }

  private long u64(long at) throws IOException {
    return bigEndian ? u32(at) << 32 | u32(at + 4) : u32(at + 4) << 32 | u32(at);
  }
}

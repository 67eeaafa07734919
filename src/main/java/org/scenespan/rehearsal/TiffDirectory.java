package org.scenespan.rehearsal;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.util.Map;
import java.util.TreeMap;

/**
 * One directory of a TIFF structure (TIFF 6.0, section 2), little-endian: tags in ascending order,
 * values of up to four bytes in place, longer ones behind it, then the directories it points to.
 */
final class TiffDirectory {
  static final int HEADER_BYTES = 8;
  private static final int ENTRY_BYTES = 12;
  private static final int BYTE = 1;
  private static final int ASCII = 2;
  private static final int SHORT = 3;
  private static final int LONG = 4;
  private static final int RATIONAL = 5;
  private static final int UNDEFINED = 7;
  private static final int SRATIONAL = 10;

  private record Entry(int type, int count, byte[] value, TiffDirectory child) {}

  private final Map<Integer, Entry> entries = new TreeMap<>();

  TiffDirectory text(int tag, String text) {
    byte[] bytes = (text + "\0").getBytes(StandardCharsets.US_ASCII);
    return put(tag, ASCII, bytes.length, bytes);
  }

  TiffDirectory bytes(int tag, int... values) {
    return put(tag, BYTE, values.length, narrowed(values));
  }

  TiffDirectory undefined(int tag, byte[] value) {
    return put(tag, UNDEFINED, value.length, value);
  }

  TiffDirectory shorts(int tag, int... values) {
    ByteBuffer buffer = buffer(2 * values.length);
    for (int value : values) {
      buffer.putShort((short) value);
    }
    return put(tag, SHORT, values.length, buffer.array());
  }

  TiffDirectory longs(int tag, int... values) {
    ByteBuffer buffer = buffer(4 * values.length);
    for (int value : values) {
      buffer.putInt(value);
    }
    return put(tag, LONG, values.length, buffer.array());
  }

  /** Unsigned fractions, each to within a millionth of its size or better. */
  TiffDirectory rationals(int tag, double... values) {
    return fractions(tag, RATIONAL, values);
  }

  TiffDirectory signedRationals(int tag, double... values) {
    return fractions(tag, SRATIONAL, values);
  }

  TiffDirectory directory(int tag, TiffDirectory child) {
    entries.put(tag, new Entry(LONG, 1, new byte[4], child));
    return this;
  }

  /** Bytes of this directory with everything behind it. */
  int size() {
    int size = ownSize();
    for (Entry entry : entries.values()) {
      if (entry.child != null) {
        size += entry.child.size();
      }
    }
    return size;
  }

  /** The whole structure: the eight bytes of header, this directory, and those under it. */
  byte[] toBytes() {
    ByteBuffer buffer = buffer(HEADER_BYTES + size());
    buffer.put((byte) 'I').put((byte) 'I').putShort((short) 42).putInt(HEADER_BYTES);
    write(buffer, HEADER_BYTES);
    return buffer.array();
  }

  private TiffDirectory put(int tag, int type, int count, byte[] value) {
    entries.put(tag, new Entry(type, count, value, null));
    return this;
  }

  private TiffDirectory fractions(int tag, int type, double... values) {
    ByteBuffer buffer = buffer(8 * values.length);
    for (double value : values) {
      long[] fraction = fraction(value);
      buffer.putInt((int) fraction[0]).putInt((int) fraction[1]);
    }
    return put(tag, type, values.length, buffer.array());
  }

  /** 1/125 for 0.008, 13/10 for 1.3, 30/1 for 30; else millionths. */
  static long[] fraction(double value) {
    double inverse = 1 / value;
    if (value > 0 && value < 0.3 && isNear(inverse, Math.rint(inverse))) {
      return new long[] {1, Math.round(inverse)};
    }
    for (long denominator : new long[] {1, 10, 100, 1000}) {
      if (isNear(value * denominator, Math.rint(value * denominator))) {
        return new long[] {Math.round(value * denominator), denominator};
      }
    }
    return new long[] {Math.round(value * 1_000_000), 1_000_000};
  }

  private static boolean isNear(double one, double other) {
    return Math.abs(one - other) <= 1e-9 * Math.max(1, Math.abs(one));
  }

  private int ownSize() {
    int size = 2 + ENTRY_BYTES * entries.size() + 4;
    for (Entry entry : entries.values()) {
      size += entry.value.length > 4 ? even(entry.value.length) : 0;
    }
    return size;
  }

  private void write(ByteBuffer buffer, int offset) {
    int values = offset + 2 + ENTRY_BYTES * entries.size() + 4;
    int children = offset + ownSize();
    buffer.position(offset);
    buffer.putShort((short) entries.size());
    for (Map.Entry<Integer, Entry> tagged : entries.entrySet()) {
      Entry entry = tagged.getValue();
      buffer.putShort(tagged.getKey().shortValue());
      buffer.putShort((short) entry.type).putInt(entry.count);
      if (entry.child != null) {
        buffer.putInt(children);
        int next = buffer.position();
        entry.child.write(buffer, children);
        buffer.position(next);
        children += entry.child.size();
      } else if (entry.value.length > 4) {
        buffer.putInt(values);
        buffer.put(values, entry.value);
        values += even(entry.value.length);
      } else {
        buffer.put(entry.value).put(new byte[4 - entry.value.length]);
      }
    }
    buffer.putInt(0);
  }

  private static int even(int length) {
    return length + (length & 1);
  }

  private static byte[] narrowed(int[] values) {
    byte[] bytes = new byte[values.length];
    for (int i = 0; i < values.length; i++) {
      bytes[i] = (byte) values[i];
    }
    return bytes;
  }

  private static ByteBuffer buffer(int size) {
    return ByteBuffer.allocate(size).order(ByteOrder.LITTLE_ENDIAN);
  }
}

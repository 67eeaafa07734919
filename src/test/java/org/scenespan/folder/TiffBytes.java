package org.scenespan.folder;

import java.io.ByteArrayOutputStream;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.util.Map;
import java.util.TreeMap;

/** Writes small TIFF files for tests: directories, sub-directories and blobs of data. */
final class TiffBytes {
  private final TreeMap<Integer, Object[]> fields = new TreeMap<>();
  private final ByteOrder order;
  private int appendedTag;
  private long[] appendedOffsets = {};
  private byte[] appended = {};

  TiffBytes(ByteOrder order) {
    this.order = order;
  }

  /** A sub-directory of the same byte order. */
  TiffBytes inner() {
    return new TiffBytes(order);
  }

  TiffBytes shorts(int tag, int... values) {
    ByteBuffer bytes = buffer(values.length * 2);
    for (int value : values) {
      bytes.putShort((short) value);
    }
    return raw(tag, 3, values.length, bytes.array());
  }

  TiffBytes longs(int tag, long... values) {
    ByteBuffer bytes = buffer(values.length * 4);
    for (long value : values) {
      bytes.putInt((int) value);
    }
    return raw(tag, 4, values.length, bytes.array());
  }

  /** Unsigned rationals, numerator and denominator in turn. */
  TiffBytes rationals(int tag, long... parts) {
    longs(tag, parts);
    return raw(tag, 5, parts.length / 2, (byte[]) fields.get(tag)[2]);
  }

  TiffBytes signedRationals(int tag, long... parts) {
    longs(tag, parts);
    return raw(tag, 10, parts.length / 2, (byte[]) fields.get(tag)[2]);
  }

  TiffBytes text(int tag, String text) {
    byte[] bytes = (text + "\0").getBytes(StandardCharsets.US_ASCII);
    return raw(tag, 2, bytes.length, bytes);
  }

  TiffBytes bytes(int tag, int... values) {
    byte[] bytes = new byte[values.length];
    for (int i = 0; i < values.length; i++) {
      bytes[i] = (byte) values[i];
    }
    return raw(tag, 1, values.length, bytes);
  }

  TiffBytes directory(int tag, TiffBytes inner) {
    fields.put(tag, new Object[] {4, 1, inner});
    return this;
  }

  /** Data at the file's end that this tag gives the place of. */
  TiffBytes data(int tag, byte[] data) {
    fields.put(tag, new Object[] {4, 1, data, "data"});
    return this;
  }

  /**
   * Data at the end of the file; the field gets the places of its pieces.
   *
   * @param offsets of the pieces within the data
   */
  TiffBytes appended(int tag, long[] offsets, byte[] data) {
    appendedTag = tag;
    appendedOffsets = offsets;
    appended = data;
    return this;
  }

  TiffBytes without(int tag) {
    fields.remove(tag);
    return this;
  }

  private TiffBytes raw(int tag, int type, int count, byte[] values) {
    fields.put(tag, new Object[] {type, count, values});
    return this;
  }

  /** Bytes of the directory and its values, without what is appended. */
  private long bare() {
    return 8 + directoryAt(8).length;
  }

  byte[] file() {
    if (appended.length > 0) {
      long start = bare();
      long[] places = appendedOffsets.clone();
      for (int i = 0; i < places.length; i++) {
        places[i] += start;
      }
      longs(appendedTag, places);
    }
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    byte[] mark = order == ByteOrder.BIG_ENDIAN ? new byte[] {'M', 'M'} : new byte[] {'I', 'I'};
    out.writeBytes(mark);
    out.writeBytes(buffer(6).putShort((short) 42).putInt(8).array());
    out.writeBytes(directoryAt(8));
    out.writeBytes(appended);
    return out.toByteArray();
  }

  private byte[] directoryAt(int start) {
    ByteBuffer head = buffer(2 + 12 * fields.size() + 4);
    ByteArrayOutputStream tail = new ByteArrayOutputStream();
    head.putShort((short) fields.size());
    for (Map.Entry<Integer, Object[]> entry : fields.entrySet()) {
      Object[] field = entry.getValue();
      head.putShort((short) (int) entry.getKey());
      head.putShort((short) (int) (Integer) field[0]).putInt((Integer) field[1]);
      if (tail.size() % 2 == 1) {
        tail.write(0);
      }
      int place = start + head.capacity() + tail.size();
      if (field[2] instanceof TiffBytes inner) {
        head.putInt(place);
        tail.writeBytes(inner.directoryAt(place));
      } else if (field.length == 4 || ((byte[]) field[2]).length > 4) {
        head.putInt(place);
        tail.writeBytes((byte[]) field[2]);
      } else {
        byte[] four = new byte[4];
        System.arraycopy((byte[]) field[2], 0, four, 0, ((byte[]) field[2]).length);
        head.put(four);
      }
    }
    head.putInt(0);
    ByteArrayOutputStream all = new ByteArrayOutputStream();
    all.writeBytes(head.array());
    all.writeBytes(tail.toByteArray());
    return all.toByteArray();
  }

  private ByteBuffer buffer(int bytes) {
    return ByteBuffer.allocate(bytes).order(order);
  }
}

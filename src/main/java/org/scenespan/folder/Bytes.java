package org.scenespan.folder;

import java.io.Closeable;
import java.io.EOFException;
import java.io.IOException;
import java.lang.invoke.MethodHandles;
import java.lang.invoke.VarHandle;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.channels.FileChannel;
import java.nio.channels.SeekableByteChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;

/** A file opened for reading only, with a window on the part that is being looked at. */
final class Bytes implements Closeable {
  /** A larger read into a heap buffer would make the JDK allocate a direct buffer of that size. */
  private static final int WINDOW_BYTES = 1 << 16;

  private static final VarHandle LONG =
      MethodHandles.byteArrayViewVarHandle(long[].class, ByteOrder.LITTLE_ENDIAN);

  private static final long ONES = 0x0101010101010101L;
  private static final long TOP_BITS = 0x8080808080808080L;

  private final SeekableByteChannel channel;
  private final long start;
  private final long size;
  private final byte[] window = new byte[WINDOW_BYTES];
  private long from;
  private int filled;

  private Bytes(SeekableByteChannel channel, long start, long size) {
    this.channel = channel;
    this.start = start;
    this.size = size;
  }

  static Bytes open(Path file) throws IOException {
    SeekableByteChannel channel = Files.newByteChannel(file, StandardOpenOption.READ);
    try {
      return new Bytes(channel, 0, channel.size());
    } catch (IOException | RuntimeException e) {
      channel.close();
      throw e;
    }
  }

  /** What a channel gives; it is closed with this. */
  static Bytes of(SeekableByteChannel channel) throws IOException {
    return new Bytes(channel, 0, channel.size());
  }

  /**
   * A part of the file as a file of its own; closing it is not needed.
   *
   * @throws EOFException if it goes beyond the end
   */
  Bytes part(long position, long length) throws EOFException {
    if (!(position >= 0 && length >= 0 && position + length <= size)) {
      throw new EOFException("the file ends too early");
    }
    return new Bytes(channel, start + position, length);
  }

  /** Bytes of the file when it was opened. */
  long size() {
    return size;
  }

  /** The byte at a position, 0 to 255. */
  int u8(long position) throws IOException {
    long index = position - from;
    if (!(index >= 0 && index < filled)) {
      fill(position);
      index = 0;
    }
    return window[(int) index] & 0xff;
  }

  /** The two bytes at a position, the higher first. */
  int u16(long position) throws IOException {
    return u8(position) << 8 | u8(position + 1);
  }

  /** The position of the next byte of this value, or the file's size where there is none. */
  long find(int value, long start) throws IOException {
    long position = start;
    while (position < size) {
      u8(position);
      int i = (int) (position - from);
      while (i < filled) {
        i = skip((byte) value, i);
        for (int stop = Math.min(filled, i + 8); i < stop; i++) {
          if (window[i] == (byte) value) {
            return from + i;
          }
        }
      }
      position = from + filled;
    }
    return size;
  }

  /** Goes on by eight bytes as long as the value is not among them. */
  private int skip(byte value, int start) {
    long eightOfIt = (value & 0xff) * ONES;
    int i = start;
    while (i + 8 <= filled) {
      long difference = (long) LONG.get(window, i) ^ eightOfIt;
      // Only a byte of zero borrows into a top bit that it does not have.
      if ((difference - ONES & ~difference & TOP_BITS) != 0) {
        break;
      }
      i += 8;
    }
    return i;
  }

  /** Reads a part of the file, all of it. Safe for several threads at a time. */
  void read(long position, byte[] into, int offset, int length) throws IOException {
    if (!(position >= 0 && position + length <= size)) {
      throw new EOFException("the file ends too early");
    }
    ByteBuffer buffer = ByteBuffer.wrap(into, offset, length);
    int end = offset + length;
    if (channel instanceof FileChannel file) {
      readAt(file, start + position, buffer, end);
      return;
    }
    synchronized (channel) {
      channel.position(start + position);
      while (buffer.position() < end) {
        buffer.limit(Math.min(end, buffer.position() + WINDOW_BYTES));
        if (channel.read(buffer) < 0) {
          throw new EOFException("the file became shorter while it was read");
        }
      }
    }
  }

  /** A file on disk is read at several places at a time. */
  private static void readAt(FileChannel file, long position, ByteBuffer buffer, int end)
      throws IOException {
    long at = position;
    while (buffer.position() < end) {
      buffer.limit(Math.min(end, buffer.position() + WINDOW_BYTES));
      int count = file.read(buffer, at);
      if (count < 0) {
        throw new EOFException("the file became shorter while it was read");
      }
      at += count;
    }
  }

  private void fill(long position) throws IOException {
    if (!(position >= 0 && position < size)) {
      throw new EOFException("the file ends too early");
    }
    int length = (int) Math.min(WINDOW_BYTES, size - position);
    filled = 0;
    read(position, window, 0, length);
    from = position;
    filled = length;
  }

  @Override
  public void close() throws IOException {
    channel.close();
  }
}

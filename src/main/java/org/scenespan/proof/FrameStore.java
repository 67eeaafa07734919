package org.scenespan.proof;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import org.scenespan.frame.PictureForm;
import org.scenespan.frame.PictureRows;

/**
 * One frame's codes, unpacked into a temporary file so that any strip of it can be read without the
 * rest, and turned upright. Gone when closed. For one thread.
 */
final class FrameStore implements AutoCloseable {
  private final FileChannel channel;
  private final PictureForm form;
  private final int bytesPerCode;
  private ByteBuffer scratch = ByteBuffer.allocate(0);

  private FrameStore(FileChannel channel, PictureForm form) {
    this.channel = channel;
    this.form = form;
    this.bytesPerCode = bytesPerCode(form);
  }

  private static int bytesPerCode(PictureForm form) {
    return form.response().codes() <= 256 ? 1 : 2;
  }

  /**
   * @param folder in which the temporary file lies; never the photographer's
   * @throws IOException if the frame cannot be read, or the disk is full
   */
  static FrameStore fill(Path folder, Path frame, PictureReader reader) throws IOException {
    Path file = Files.createTempFile(folder, "unpacked-", ".tmp");
    FileChannel channel =
        FileChannel.open(
            file,
            StandardOpenOption.READ,
            StandardOpenOption.WRITE,
            StandardOpenOption.DELETE_ON_CLOSE);
    try {
      Filling filling = new Filling(channel);
      reader.read(frame, filling);
      if (filling.form == null || filling.rows != filling.form.height()) {
        throw new IOException("rows are missing");
      }
      return new FrameStore(channel, filling.form);
    } catch (UncheckedIOException full) {
      channel.close();
      throw full.getCause();
    } catch (IOException | RuntimeException failed) {
      channel.close();
      throw failed;
    }
  }

  /** Writes each row to its place, in whatever order they come. */
  private static final class Filling implements PictureRows {
    private final FileChannel channel;
    private PictureForm form;
    private ByteBuffer buffer;
    private int rows;

    Filling(FileChannel channel) {
      this.channel = channel;
    }

    @Override
    public void begin(PictureForm begun) {
      form = begun;
      rows = 0;
      buffer =
          ByteBuffer.allocate(3 * form.width() * bytesPerCode(form)).order(ByteOrder.nativeOrder());
    }

    @Override
    public void row(int y, short[] rgb) {
      buffer.clear();
      int count = 3 * form.width();
      if (bytesPerCode(form) == 1) {
        byte[] bytes = buffer.array();
        for (int i = 0; i < count; i++) {
          bytes[i] = (byte) rgb[i];
        }
      } else {
        buffer.asShortBuffer().put(rgb, 0, count);
      }
      long position = (long) y * buffer.capacity();
      try {
        while (buffer.hasRemaining()) {
          channel.write(buffer, position + buffer.position());
        }
      } catch (IOException full) {
        throw new UncheckedIOException(
            new IOException("no room to unpack it: " + full.getMessage(), full));
      }
      rows++;
    }
  }

  PictureForm form() {
    return form;
  }

  private boolean isTurned() {
    return form.metadata().orientation() >= 5;
  }

  /** Pixels of an upright row. */
  int width() {
    return isTurned() ? form.height() : form.width();
  }

  /** Upright rows. */
  int height() {
    return isTurned() ? form.width() : form.height();
  }

  /**
   * Reads upright rows.
   *
   * @param into takes three codes a pixel
   */
  void rows(int top, int count, short[] into) throws IOException {
    int orientation = form.metadata().orientation();
    if (isTurned()) {
      turned(orientation, top, count, into);
    } else {
      for (int y = 0; y < count; y++) {
        boolean upsideDown = orientation == 3 || orientation == 4;
        int stored = upsideDown ? form.height() - 1 - (top + y) : top + y;
        segment(0, stored, form.width(), into, 3 * y * width());
        if (orientation == 2 || orientation == 3) {
          mirror(into, 3 * y * width(), width());
        }
      }
    }
  }

  private static void mirror(short[] codes, int at, int width) {
    for (int x = 0; x < width / 2; x++) {
      for (int c = 0; c < 3; c++) {
        int a = at + 3 * x + c;
        int b = at + 3 * (width - 1 - x) + c;
        short held = codes[a];
        codes[a] = codes[b];
        codes[b] = held;
      }
    }
  }

  /** Upright rows are stored columns (Exif's orientations 5 to 8; CIPA DC-008, 4.6.4). */
  private void turned(int orientation, int top, int count, short[] into) throws IOException {
    boolean fromRight = orientation >= 7;
    boolean fromBelow = orientation == 6 || orientation == 7;
    int left = fromRight ? form.width() - top - count : top;
    short[] part = new short[3 * count];
    for (int stored = 0; stored < form.height(); stored++) {
      segment(left, stored, count, part, 0);
      int x = fromBelow ? form.height() - 1 - stored : stored;
      for (int y = 0; y < count; y++) {
        int from = 3 * (fromRight ? count - 1 - y : y);
        int to = 3 * (y * width() + x);
        into[to] = part[from];
        into[to + 1] = part[from + 1];
        into[to + 2] = part[from + 2];
      }
    }
  }

  private void segment(int left, int row, int pixels, short[] into, int at) throws IOException {
    int codes = 3 * pixels;
    int bytes = codes * bytesPerCode;
    if (scratch.capacity() < bytes) {
      scratch = ByteBuffer.allocate(bytes).order(ByteOrder.nativeOrder());
    }
    scratch.clear().limit(bytes);
    long position = 3L * bytesPerCode * ((long) row * form.width() + left);
    while (scratch.hasRemaining()) {
      if (channel.read(scratch, position + scratch.position()) < 0) {
        throw new IOException("an unpacked frame has become shorter");
      }
    }
    scratch.flip();
    if (bytesPerCode == 2) {
      scratch.asShortBuffer().get(into, at, codes);
    } else {
      byte[] read = scratch.array();
      for (int i = 0; i < codes; i++) {
        into[at + i] = (short) (read[i] & 0xff);
      }
    }
  }

  @Override
  public void close() throws IOException {
    channel.close();
  }
}

package org.scenespan.rehearsal;

import com.sun.jna.Library;
import com.sun.jna.Native;
import com.sun.jna.NativeLong;
import com.sun.jna.Platform;
import java.io.Closeable;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Objects;

/**
 * A serial cable made of software: a program opens its {@link #slave} as it would a serial port,
 * this side reads and writes the other end, and closing it pulls the cable (POSIX.1-2017, {@code
 * posix_openpt}).
 */
public final class PseudoTerminal implements Closeable {
  /** How long a blocked read or write takes to notice that the cable is pulled. */
  private static final int POLL_MILLIS = 50;

  /** More than any system's {@code struct termios}, which is only passed through. */
  private static final int TERMIOS_BYTES = 512;

  private static final int LONGEST_NAME = 256;
  private static final int O_RDWR = 2;
  private static final int O_NOCTTY = Platform.isMac() ? 0x20000 : 0x100;
  private static final short POLLIN = 1;
  private static final short POLLOUT = 4;

  private interface CLibrary extends Library {
    int posix_openpt(int flags);

    int grantpt(int fd);

    int unlockpt(int fd);

    int ptsname_r(int fd, byte[] name, NativeLong size);

    int open(String path, int flags);

    int tcgetattr(int fd, byte[] termios);

    void cfmakeraw(byte[] termios);

    int tcsetattr(int fd, int when, byte[] termios);

    /** Takes C's {@code struct pollfd}: int fd, short events, short revents. */
    int poll(byte[] entry, NativeLong count, int millis);

    NativeLong read(int fd, byte[] bytes, NativeLong count);

    NativeLong write(int fd, byte[] bytes, NativeLong count);

    int close(int fd);
  }

  private final CLibrary c;
  private final int master;
  private final int heldSlave;
  private final Path slave;
  private final Object reading = new Object();
  private final Object writing = new Object();
  private final InputStream in = new Input();
  private final OutputStream out = new Output();
  private volatile boolean pulled;
  private boolean closed;

  private PseudoTerminal(CLibrary c, int master, int heldSlave, Path slave) {
    this.c = c;
    this.master = master;
    this.heldSlave = heldSlave;
    this.slave = slave;
  }

  /**
   * Makes a pair.
   *
   * @throws UnsupportedOperationException where the system has no pseudo-terminals (Windows)
   * @throws IOException if the system gives none
   */
  public static PseudoTerminal open() throws IOException {
    if (Platform.isWindows()) {
      throw new UnsupportedOperationException(
          "Windows has no pseudo-terminals; offer the trigger on a stream instead");
    }
    CLibrary c = Native.load("c", CLibrary.class);
    int master = checked(c.posix_openpt(O_RDWR | O_NOCTTY), "posix_openpt");
    try {
      checked(c.grantpt(master), "grantpt");
      checked(c.unlockpt(master), "unlockpt");
      byte[] name = new byte[LONGEST_NAME];
      if (c.ptsname_r(master, name, new NativeLong(name.length)) != 0) {
        throw failed("ptsname_r");
      }
      String path = Native.toString(name, StandardCharsets.UTF_8);
      // Held open, so that the pair keeps its settings while nobody else has the slave open.
      int held = checked(c.open(path, O_RDWR | O_NOCTTY), "open " + path);
      byte[] termios = new byte[TERMIOS_BYTES];
      checked(c.tcgetattr(held, termios), "tcgetattr");
      c.cfmakeraw(termios);
      checked(c.tcsetattr(held, 0, termios), "tcsetattr");
      return new PseudoTerminal(c, master, held, Path.of(path));
    } catch (IOException e) {
      c.close(master);
      throw e;
    }
  }

  /** What the other program opens as its serial port. */
  public Path slave() {
    return slave;
  }

  /** Bytes from the program at the other end; ends when the cable is pulled. */
  public InputStream input() {
    return in;
  }

  /** Bytes to the program at the other end. */
  public OutputStream output() {
    return out;
  }

  /** Pulls the cable: both ends are gone. */
  @Override
  public void close() {
    pulled = true;
    // Not under a read or write in progress: its descriptor could be given to another file.
    synchronized (reading) {
      synchronized (writing) {
        if (!closed) {
          closed = true;
          c.close(heldSlave);
          c.close(master);
        }
      }
    }
  }

  /** Waits until the pair is ready or the cable is pulled, of which it answers false. */
  private boolean await(short event) {
    byte[] entry = new byte[8];
    ByteBuffer.wrap(entry).order(ByteOrder.nativeOrder()).putInt(master).putShort(event);
    while (!pulled) {
      if (c.poll(entry, new NativeLong(1), POLL_MILLIS) > 0) {
        return !pulled;
      }
    }
    return false;
  }

  private final class Input extends InputStream {
    @Override
    public int read() throws IOException {
      byte[] one = new byte[1];
      return read(one, 0, 1) < 0 ? -1 : one[0] & 0xff;
    }

    @Override
    public int read(byte[] target, int from, int count) throws IOException {
      Objects.checkFromIndexSize(from, count, target.length);
      if (count == 0) {
        return 0;
      }
      synchronized (reading) {
        if (!PseudoTerminal.this.await(POLLIN)) {
          return -1;
        }
        byte[] bytes = new byte[count];
        int got = c.read(master, bytes, new NativeLong(count)).intValue();
        if (got <= 0) {
          return -1;
        }
        System.arraycopy(bytes, 0, target, from, got);
        return got;
      }
    }

    @Override
    public void close() {
      PseudoTerminal.this.close();
    }
  }

  private final class Output extends OutputStream {
    @Override
    public void write(int value) throws IOException {
      write(new byte[] {(byte) value}, 0, 1);
    }

    @Override
    public void write(byte[] source, int from, int count) throws IOException {
      Objects.checkFromIndexSize(from, count, source.length);
      int done = 0;
      synchronized (writing) {
        while (done < count) {
          if (!PseudoTerminal.this.await(POLLOUT)) {
            throw new IOException("the cable is pulled");
          }
          // There is room for one byte at least. More might wait for a reader, and a write that
          // waits cannot be ended: closing would wait with it.
          byte[] one = {source[from + done]};
          if (c.write(master, one, new NativeLong(1)).intValue() < 0) {
            throw failed("write");
          }
          done++;
        }
      }
    }

    @Override
    public void close() {
      PseudoTerminal.this.close();
    }
  }

  private static int checked(int result, String call) throws IOException {
    if (result < 0) {
      throw failed(call);
    }
    return result;
  }

  private static IOException failed(String call) {
    return new IOException(call + " failed with error " + Native.getLastError());
  }
}

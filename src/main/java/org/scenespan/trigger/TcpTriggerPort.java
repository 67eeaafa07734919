package org.scenespan.trigger;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.net.InetSocketAddress;
import java.net.Socket;
import java.net.SocketTimeoutException;
import java.net.UnknownHostException;

/** A trigger's bytes at the end of a TCP connection, such as a wireless bridge offers them. */
public final class TcpTriggerPort implements TriggerPort {
  static final String SCHEME = "tcp://";

  /** The longest that connecting may take. */
  private static final int CONNECT_MILLIS = 5_000;

  private static final int READ_WAIT_MILLIS = 200;
  private static final long WRITE_LIMIT_MILLIS = 3_000;

  /** What is still read before a connection is closed. */
  private static final int REST_BYTES = 4096;

  private static final int MOST_LAST_READS = 16;

  private final Socket socket;
  private final InputStream in;
  private final OutputStream out;
  private final BoundedWriter writer;

  private TcpTriggerPort(Socket socket, String name) throws IOException {
    this.socket = socket;
    this.in = socket.getInputStream();
    this.out = socket.getOutputStream();
    this.writer = new BoundedWriter(name);
  }

  /**
   * Connects.
   *
   * @throws IOException if that fails: one line that says what, where and what to do
   */
  static TcpTriggerPort open(HostAndPort far) throws IOException {
    Socket socket = new Socket();
    try {
      socket.setTcpNoDelay(true);
      socket.setKeepAlive(true);
      socket.setSoTimeout(READ_WAIT_MILLIS);
      InetSocketAddress address = new InetSocketAddress(far.host(), far.port());
      if (address.isUnresolved()) {
        throw new UnknownHostException("no such host");
      }
      socket.connect(address, CONNECT_MILLIS);
      return new TcpTriggerPort(socket, far.address());
    } catch (IOException e) {
      socket.close();
      throw new IOException(
          "port \""
              + far.address()
              + "\" cannot be connected: "
              + e.getMessage()
              + "; check the bridge's power, address and port, and that nobody else is connected",
          e);
    }
  }

  @Override
  public int read(byte[] buffer) {
    try {
      int count = in.read(buffer);
      return count < 0 ? GONE : count;
    } catch (SocketTimeoutException none) {
      return 0;
    } catch (IOException gone) {
      return GONE;
    }
  }

  /**
   * {@inheritDoc}
   *
   * <p>A socket has no time-out for writing: with a far end that takes nothing it blocks.
   */
  @Override
  public void write(byte[] bytes) throws IOException {
    writer.write(
        bytes.length,
        WRITE_LIMIT_MILLIS,
        () -> {
          out.write(bytes);
          out.flush();
          return true;
        });
  }

  /**
   * {@inheritDoc}
   *
   * <p>Hangs up gently: a connection that is closed with bytes unread is reset, and the far end may
   * then never see the last command, which is the one that opens a contact.
   */
  @Override
  public void close() {
    try {
      socket.shutdownOutput();
      byte[] rest = new byte[REST_BYTES];
      for (int reads = 0; reads < MOST_LAST_READS && read(rest) > 0; reads++) {
        // What still comes is of no use.
      }
    } catch (IOException alreadyGone) {
      // Then there is nobody to be gentle with.
    }
    try {
      socket.close();
    } catch (IOException alreadyGone) {
      // It is closed all the same.
    }
    writer.close();
  }
}

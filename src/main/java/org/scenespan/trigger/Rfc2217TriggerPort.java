package org.scenespan.trigger;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.util.HashSet;
import java.util.Set;

/** A serial port of another machine, set and used over telnet (RFC 2217). */
public final class Rfc2217TriggerPort implements TriggerPort {
  static final String SCHEME = "rfc2217://";

  /** Commands of RFC 2217, section 3. */
  static final int SET_BAUDRATE = 1;

  static final int SET_DATASIZE = 2;
  static final int SET_PARITY = 3;
  static final int SET_STOPSIZE = 4;
  static final int SET_CONTROL = 5;
  static final int DTR_ON = 8;
  static final int DTR_OFF = 9;
  static final int RTS_ON = 11;
  static final int RTS_OFF = 12;

  /** How many reads, of a fifth of a second each at most, the far end has for each step. */
  private static final int MOST_READS = 15;

  private static final int BUFFER_BYTES = 4096;

  private final TcpTriggerPort line;
  private final Telnet telnet = new Telnet();
  private final byte[] raw = new byte[BUFFER_BYTES];
  private final boolean contacts;
  private byte[] waiting = new byte[0];

  private Rfc2217TriggerPort(TcpTriggerPort line, boolean contacts) {
    this.line = line;
    this.contacts = contacts;
  }

  /**
   * Connects and sets the far serial port.
   *
   * @param contacts whether contacts hang on the modem lines, so that these are dropped at once
   * @throws IOException if that fails: one line that says what, where and what to do
   */
  static Rfc2217TriggerPort open(HostAndPort far, Profile.LineSettings settings, boolean contacts)
      throws IOException {
    Rfc2217TriggerPort port = new Rfc2217TriggerPort(TcpTriggerPort.open(far), contacts);
    try {
      port.negotiate(far, settings);
      return port;
    } catch (IOException e) {
      port.line.close();
      throw e;
    }
  }

  private void negotiate(HostAndPort far, Profile.LineSettings settings) throws IOException {
    line.write(Telnet.opening());
    for (int reads = 0; !telnet.isComPort(); reads++) {
      if (telnet.isRefused() || reads == MOST_READS || !pump()) {
        throw new IOException(
            "port \""
                + far.address()
                + "\" does not let its serial port be set (RFC 2217); use tcp:// for plain bytes");
      }
    }
    if (contacts) {
      drop();
    }
    line.write(
        Telnet.command(SET_BAUDRATE, ByteBuffer.allocate(4).putInt(settings.baud()).array()));
    send(SET_DATASIZE, settings.dataBits());
    send(SET_PARITY, parity(settings.parity()));
    send(SET_STOPSIZE, settings.stopBits());
    send(SET_CONTROL, flow(settings.flowControl()));
    Set<Integer> open =
        new HashSet<>(
            Set.of(
                SET_BAUDRATE + Telnet.ANSWER,
                SET_DATASIZE + Telnet.ANSWER,
                SET_PARITY + Telnet.ANSWER,
                SET_STOPSIZE + Telnet.ANSWER));
    for (int reads = 0; !open.isEmpty(); reads++) {
      if (reads == MOST_READS || !pump()) {
        throw new IOException(
            "port \"" + far.address() + "\" did not say that its serial port is set");
      }
      for (Telnet.Answer answer : telnet.takeAnswers()) {
        open.remove(answer.command());
        requireBaud(far, settings, answer);
      }
    }
  }

  private static void requireBaud(
      HostAndPort far, Profile.LineSettings settings, Telnet.Answer answer) throws IOException {
    if (answer.command() == SET_BAUDRATE + Telnet.ANSWER && answer.value().length == 4) {
      int baud = ByteBuffer.wrap(answer.value()).getInt();
      if (baud != settings.baud()) {
        throw new IOException(
            "port \"" + far.address() + "\" runs at " + baud + " baud, not " + settings.baud());
      }
    }
  }

  /** Reads once; whether the line is still there. */
  private boolean pump() throws IOException {
    int count = line.read(raw);
    if (count < 0) {
      return false;
    }
    telnet.receive(raw, count);
    byte[] replies = telnet.takeReplies();
    if (replies.length > 0) {
      line.write(replies);
    }
    byte[] data = telnet.takeData();
    if (data.length > 0) {
      byte[] all = new byte[waiting.length + data.length];
      System.arraycopy(waiting, 0, all, 0, waiting.length);
      System.arraycopy(data, 0, all, waiting.length, data.length);
      waiting = all;
    }
    return true;
  }

  @Override
  public int read(byte[] buffer) {
    try {
      if (waiting.length == 0 && !pump()) {
        return GONE;
      }
    } catch (IOException gone) {
      return GONE;
    }
    // Notices about the line's state are of no use here.
    telnet.takeAnswers();
    int count = Math.min(buffer.length, waiting.length);
    System.arraycopy(waiting, 0, buffer, 0, count);
    byte[] rest = new byte[waiting.length - count];
    System.arraycopy(waiting, count, rest, 0, rest.length);
    waiting = rest;
    return count;
  }

  @Override
  public void write(byte[] bytes) throws IOException {
    line.write(Telnet.escaped(bytes));
  }

  @Override
  public void set(ModemLine modem, boolean asserted) throws IOException {
    int command =
        switch (modem) {
          case RTS -> asserted ? RTS_ON : RTS_OFF;
          case DTR -> asserted ? DTR_ON : DTR_OFF;
        };
    send(SET_CONTROL, command);
  }

  private void drop() throws IOException {
    set(ModemLine.RTS, false);
    set(ModemLine.DTR, false);
  }

  private void send(int command, int value) throws IOException {
    line.write(Telnet.command(command, new byte[] {(byte) value}));
  }

  @Override
  public void close() {
    if (contacts) {
      try {
        drop();
      } catch (IOException gone) {
        // Nobody is there to open the contacts; the far end drops its lines when it is left.
      }
    }
    line.close();
  }

  private static int parity(Profile.Parity parity) {
    return switch (parity) {
      case NONE -> 1;
      case ODD -> 2;
      case EVEN -> 3;
    };
  }

  private static int flow(Profile.FlowControl control) {
    return switch (control) {
      case NONE -> 1;
      case XONXOFF -> 2;
      case RTSCTS -> 3;
    };
  }
}

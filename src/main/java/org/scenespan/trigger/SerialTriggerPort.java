package org.scenespan.trigger;

import com.fazecast.jSerialComm.SerialPort;
import com.fazecast.jSerialComm.SerialPortInvalidPortException;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;

/** A serial port of this machine. */
public final class SerialTriggerPort implements TriggerPort {
  /** How long a read waits for bytes. */
  private static final int READ_WAIT_MILLIS = 200;

  /** How long a write may take beyond what the line's speed asks for. */
  private static final long WRITE_MARGIN_MILLIS = 2_000;

  /** Start, data, parity and two stop bits: the most that a byte takes on the line. */
  private static final long BITS_PER_BYTE = 12;

  /** Linux errno: no permission; not a terminal. */
  private static final int EACCES = 13;

  private static final int ENOTTY = 25;

  private final String name;
  private final SerialPort port;
  private final BoundedWriter writer;
  private final boolean contacts;

  private SerialTriggerPort(String name, SerialPort port, boolean contacts) {
    this.name = name;
    this.port = port;
    this.contacts = contacts;
    this.writer = new BoundedWriter(name);
  }

  /**
   * Opens a port for this program alone. Symbolic links are followed anew at each call.
   *
   * @param name a path such as {@code /dev/ttyUSB0}, the name alone, or {@code COM3}
   * @throws IOException if that fails: one line that says what, where and what to do
   */
  public static SerialTriggerPort open(String name, Profile.LineSettings line) throws IOException {
    return open(name, line, false);
  }

  /**
   * Opens a port with contacts on its modem lines, both dropped. The system itself raises them for
   * a moment when a port is opened; no program can prevent that.
   *
   * @throws IOException if that fails, or if the port drives no modem lines
   */
  public static SerialTriggerPort openContacts(String name, Profile.LineSettings line)
      throws IOException {
    return open(name, line, true);
  }

  private static SerialTriggerPort open(String name, Profile.LineSettings line, boolean contacts)
      throws IOException {
    String path = isWindows() ? name : checkedPath(name).toString();
    SerialLibrary.load();
    SerialPort port;
    try {
      port = SerialPort.getCommPort(path);
    } catch (SerialPortInvalidPortException e) {
      throw noSuchPort(name);
    }
    port.setComPortParameters(
        line.baud(), line.dataBits(), stopBits(line.stopBits()), parity(line.parity()));
    port.setFlowControl(flowControl(line.flowControl()));
    port.setComPortTimeouts(SerialPort.TIMEOUT_READ_SEMI_BLOCKING, READ_WAIT_MILLIS, 0);
    if (contacts) {
      port.clearRTS();
      port.clearDTR();
    }
    if (!port.openPort()) {
      throw new IOException("port \"" + name + "\" " + whyNot(port.getLastErrorCode()));
    }
    SerialTriggerPort opened = new SerialTriggerPort(name, port, contacts);
    if (contacts && !opened.drop()) {
      opened.close();
      throw new IOException(
          "port \"" + name + "\" drives no modem lines, RTS and DTR; use an adapter that does");
    }
    return opened;
  }

  /** The library tells a missing path from a folder or a file only by a bare "false". */
  private static Path checkedPath(String name) throws IOException {
    Path given;
    try {
      given = Path.of(name);
      if (!name.contains("/")) {
        given = Path.of("/dev").resolve(name);
      }
    } catch (InvalidPathException e) {
      throw noSuchPort(name);
    }
    if (name.isBlank() || !Files.exists(given)) {
      throw noSuchPort(name);
    }
    if (Files.isDirectory(given)) {
      throw new IOException("port \"" + name + "\" is a folder; give the port inside it");
    }
    if (Files.isRegularFile(given)) {
      throw new IOException("port \"" + name + "\" is an ordinary file, not a serial port");
    }
    if (!Files.isReadable(given) || !Files.isWritable(given)) {
      throw new IOException("port \"" + name + "\" " + whyNot(EACCES));
    }
    return given.toRealPath();
  }

  private static IOException noSuchPort(String name) {
    return new IOException(
        "no such port \"" + name + "\"; plug the adapter in, or list the ports there are");
  }

  private static String whyNot(int error) {
    return switch (error) {
      case EACCES ->
          "may not be used by you; join the group that owns it (often dialout) and log in again";
      case ENOTTY -> "is not a serial port";
      default -> "is busy; close the other program that uses it (error " + error + ")";
    };
  }

  @Override
  public int read(byte[] buffer) {
    int count = port.readBytes(buffer, buffer.length);
    return count < 0 ? GONE : count;
  }

  /**
   * {@inheritDoc}
   *
   * <p>The library's own write time-out is ignored on Linux: with no reader a write blocks for
   * ever. So it runs on a thread that may be left behind.
   */
  @Override
  public void write(byte[] bytes) throws IOException {
    long limitMillis =
        WRITE_MARGIN_MILLIS + bytes.length * BITS_PER_BYTE * 1000 / port.getBaudRate();
    writer.write(
        bytes.length, limitMillis, () -> port.writeBytes(bytes, bytes.length) == bytes.length);
  }

  @Override
  public void set(ModemLine line, boolean asserted) throws IOException {
    boolean done =
        switch (line) {
          case RTS -> asserted ? port.setRTS() : port.clearRTS();
          case DTR -> asserted ? port.setDTR() : port.clearDTR();
        };
    if (!done) {
      throw new IOException("port \"" + name + "\" did not switch its line " + line);
    }
  }

  private boolean drop() {
    boolean release = port.clearRTS();
    boolean halfPress = port.clearDTR();
    return release && halfPress;
  }

  @Override
  public void close() {
    if (contacts) {
      drop();
    }
    port.closePort();
    writer.close();
  }

  private static boolean isWindows() {
    return System.getProperty("os.name", "").startsWith("Windows");
  }

  private static int stopBits(int bits) {
    return bits == 2 ? SerialPort.TWO_STOP_BITS : SerialPort.ONE_STOP_BIT;
  }

  private static int parity(Profile.Parity parity) {
    return switch (parity) {
      case NONE -> SerialPort.NO_PARITY;
      case EVEN -> SerialPort.EVEN_PARITY;
      case ODD -> SerialPort.ODD_PARITY;
    };
  }

  private static int flowControl(Profile.FlowControl control) {
    return switch (control) {
      case NONE -> SerialPort.FLOW_CONTROL_DISABLED;
      case RTSCTS -> SerialPort.FLOW_CONTROL_RTS_ENABLED | SerialPort.FLOW_CONTROL_CTS_ENABLED;
      case XONXOFF ->
          SerialPort.FLOW_CONTROL_XONXOFF_IN_ENABLED | SerialPort.FLOW_CONTROL_XONXOFF_OUT_ENABLED;
    };
  }
}

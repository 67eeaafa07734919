package org.scenespan.trigger;

import com.fazecast.jSerialComm.SerialPort;
import java.io.IOException;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;

/** The serial ports of this machine. */
public final class SerialPorts {
  /**
   * A port that could be opened.
   *
   * @param path what {@link SerialTriggerPort#open} takes
   * @param description what the system calls the adapter
   */
  public record Found(String path, String description) {}

  private SerialPorts() {}

  /**
   * Lists the ports, sorted by path.
   *
   * @throws IOException if serial ports cannot be used on this machine
   */
  public static List<Found> list() throws IOException {
    SerialLibrary.load();
    return Arrays.stream(SerialPort.getCommPorts())
        .map(port -> new Found(port.getSystemPortPath(), port.getDescriptivePortName()))
        .sorted(Comparator.comparing(Found::path))
        .toList();
  }
}

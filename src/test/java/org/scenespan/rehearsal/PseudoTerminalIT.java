package org.scenespan.rehearsal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeFalse;

import com.fazecast.jSerialComm.SerialPort;
import com.sun.jna.Platform;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.InstantSource;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.scenespan.frame.Radiance;
import org.scenespan.light.Ev;

/** The emulated trigger over a real pseudo-terminal, spoken to with the real serial library. */
@Timeout(60)
class PseudoTerminalIT {
  @TempDir Path folder;

  @BeforeEach
  void thereAreSuchTerminals() {
    assumeFalse(Platform.isWindows(), "Windows has no pseudo-terminals (tests of group serial)");
  }

  private static SerialPort opened(PseudoTerminal terminal) {
    SerialPort port = SerialPort.getCommPort(terminal.slave().toString());
    port.setBaudRate(115_200);
    port.setComPortTimeouts(SerialPort.TIMEOUT_READ_SEMI_BLOCKING, 300, 0);
    assertTrue(port.openPort(), "cannot open " + terminal.slave());
    return port;
  }

  private static void send(SerialPort port, String text) {
    byte[] bytes = text.getBytes(StandardCharsets.US_ASCII);
    assertEquals(bytes.length, port.writeBytes(bytes, bytes.length));
  }

  private static String line(SerialPort port) {
    StringBuilder line = new StringBuilder();
    byte[] one = new byte[1];
    while (line.indexOf("\n") < 0) {
      int count = port.readBytes(one, 1);
      assertTrue(count >= 0, "the port is gone after \"" + line + "\"");
      if (count == 1) {
        line.append((char) one[0]);
      }
    }
    return line.toString();
  }

  @Test
  void talksAndLosesTheCable() throws Exception {
    Scene scene = Scene.of("dot", new Radiance(1, new float[][] {{1, 1, 1}}), new Ev(12));
    SimulatedRig rig = new SimulatedRig(RigSettings.TYPICAL, scene, folder, Faults.NONE);
    PseudoTerminal terminal = PseudoTerminal.open();
    assertTrue(Files.exists(terminal.slave()));
    Emulation emulation =
        Emulation.start(rig, terminal.input(), terminal.output(), InstantSource.system());
    SerialPort port = opened(terminal);
    try {
      send(port, "*IDN?\n");
      assertEquals(SimulatedRig.IDENTITY + "\n", line(port));
      send(port, "EXP:TIME 0.01;:TRIG:REL 3;DONE?\n");
      assertEquals("3\n", line(port));
      port.closePort();

      // Somebody else comes: the pair outlives who had it open.
      port = opened(terminal);
      send(port, "TRIG:DONE?\n");
      assertEquals("3\n", line(port));

      terminal.close();
      int count = 0;
      while (count >= 0) {
        count = port.readBytes(new byte[16], 16);
      }
      assertEquals(-1, count);
    } finally {
      port.closePort();
      terminal.close();
    }
    assertTrue(emulation.awaitEnd(Duration.ofSeconds(30)));
    assertTrue(Files.exists(folder.resolve("SCN_0001.JPG")));
  }

  /** The line is raw from the start: no echo, no editing, every byte as it is. */
  @Test
  void everyByteGoesThroughUnchanged() throws Exception {
    byte[] all = new byte[256];
    for (int i = 0; i < 256; i++) {
      all[i] = (byte) i;
    }
    try (PseudoTerminal terminal = PseudoTerminal.open()) {
      SerialPort port = opened(terminal);
      try {
        assertEquals(256, port.writeBytes(all, 256));
        assertEquals(
            new String(all, StandardCharsets.ISO_8859_1),
            new String(terminal.input().readNBytes(256), StandardCharsets.ISO_8859_1));
        terminal.output().write(all);
        byte[] back = new byte[256];
        int got = 0;
        while (got < 256) {
          int count = port.readBytes(back, 256 - got, got);
          assertTrue(count >= 0, "the port is gone");
          got += count;
        }
        assertEquals(
            new String(all, StandardCharsets.ISO_8859_1),
            new String(back, StandardCharsets.ISO_8859_1));
      } finally {
        port.closePort();
      }
    }
  }
}

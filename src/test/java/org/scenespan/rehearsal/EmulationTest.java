package org.scenespan.rehearsal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.BufferedReader;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.InstantSource;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.scenespan.frame.Radiance;
import org.scenespan.light.Ev;

/** The rig by the clock. Nothing here depends on how quick the machine is. */
@Timeout(60)
class EmulationTest {
  @TempDir Path folder;

  private SimulatedRig rig() {
    Scene scene = Scene.of("dot", new Radiance(1, new float[][] {{1, 1, 1}}), new Ev(12));
    return new SimulatedRig(RigSettings.TYPICAL, scene, folder, Faults.NONE);
  }

  private static byte[] ascii(String text) {
    return text.getBytes(StandardCharsets.US_ASCII);
  }

  @Test
  void talksOverACable() throws Exception {
    Cable cable = new Cable();
    Emulation emulation =
        Emulation.start(
            rig(), cable.device().input(), cable.device().output(), InstantSource.system());
    try (emulation) {
      BufferedReader said =
          new BufferedReader(
              new InputStreamReader(cable.host().input(), StandardCharsets.US_ASCII));
      cable.host().write(ascii("*ID"));
      cable.host().write(ascii("N?\nMET:EV?\n"));
      assertEquals(SimulatedRig.IDENTITY, said.readLine());
      assertEquals("12.00", said.readLine());
      cable.host().write(ascii("EXP:TIME 0.01;:TRIG:REL 4;DONE?\n"));
      assertEquals("4", said.readLine());
    }
    assertTrue(emulation.awaitEnd(Duration.ofSeconds(30)));
  }

  @Test
  void endOfInputLetsTheCameraFinish() throws Exception {
    ByteArrayOutputStream said = new ByteArrayOutputStream();
    byte[] lines = ascii("EXP:TIME 0.01;:TRIG:REL 4;DONE?\n");
    Emulation emulation =
        Emulation.start(rig(), new ByteArrayInputStream(lines), said, InstantSource.system());
    assertEquals(Optional.empty(), emulation.awaitEnd());
    assertEquals("4\n", said.toString(StandardCharsets.US_ASCII));
    byte[] file = Files.readAllBytes(folder.resolve("SCN_0001.JPG"));
    assertEquals((byte) 0xd9, file[file.length - 1]);
  }

  @Test
  void pulledCableLetsTheCameraFinish() throws Exception {
    OutputStream gone =
        new OutputStream() {
          @Override
          public void write(int value) throws IOException {
            throw new IOException("the cable is pulled");
          }
        };
    byte[] lines = ascii("*IDN?;:EXP:TIME 0.01;:TRIG:REL 4\n");
    Emulation emulation =
        Emulation.start(rig(), new ByteArrayInputStream(lines), gone, InstantSource.system());
    assertEquals(Optional.empty(), emulation.awaitEnd());
    assertTrue(Files.exists(folder.resolve("SCN_0001.JPG")));
  }
}

package org.scenespan.firmware;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.scenespan.firmware.SpokenLines.line;
import static org.scenespan.firmware.SpokenLines.send;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.scenespan.Needs;
import org.scenespan.PtyPair;
import org.scenespan.light.Aperture;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;
import org.scenespan.session.Input;
import org.scenespan.trigger.Order;
import org.scenespan.trigger.Profile;
import org.scenespan.trigger.Profiles;
import org.scenespan.trigger.SerialTriggerPort;
import org.scenespan.trigger.TriggerEdge;

/**
 * The 32-bit board's own program on an emulated machine of its kind. The emulator has its
 * processor, its USART with the interrupt, and its counter, at three times the board's clock: an
 * exposure lasts a third. It has no pins, clock control or watchdog: it logs what is written to
 * them, which is how the contacts are seen here; that a hang resets the chip is not.
 */
@Timeout(120)
class FirmwareArmIT {
  /** The port's register that sets pins by its lower half and clears them by its upper. */
  private static final String PINS = "GPIOA: unimplemented device write (size 4, offset 0x010, ";

  private static final Map<String, String> CONTACTS =
      Map.of(
          "value 0x00000001)", "half-press closed",
          "value 0x00010000)", "half-press open",
          "value 0x00000002)", "release closed",
          "value 0x00020000)", "release open",
          "value 0x00030000)", "both open");

  @TempDir Path folder;

  private final BlockingQueue<Input> inputs = new LinkedBlockingQueue<>();
  private final BlockingQueue<String> contacts = new LinkedBlockingQueue<>();
  private final Profile profile = new Profiles(Optional.empty()).load("reference-trigger-contact");
  private PtyPair cable;
  private Process machine;

  @BeforeEach
  void powerUp() throws Exception {
    Path program = Firmware.thirtyTwoBits(folder);
    cable = PtyPair.in(folder, "boards");
    machine =
        new ProcessBuilder(
                Needs.tool("boards", "qemu-system-arm").toString(),
                "-M",
                "stm32vldiscovery",
                "-display",
                "none",
                "-monitor",
                "none",
                "-kernel",
                program.toString(),
                "-chardev",
                "serial,id=line,path=" + cable.far(),
                "-serial",
                "chardev:line",
                "-d",
                "unimp")
            .redirectErrorStream(true)
            .start();
    Thread reader = new Thread(this::watchContacts, "contacts");
    reader.setDaemon(true);
    reader.start();
    assertEquals("both open", contact());
    // Its start opens them once more, by the core.
    assertEquals(List.of("release open", "half-press open"), List.of(contact(), contact()));
  }

  /** The watchdog is fed a hundred thousand times a second: all of that is read and dropped. */
  private void watchContacts() {
    try (BufferedReader log = machine.inputReader()) {
      for (String line = log.readLine(); line != null; line = log.readLine()) {
        if (line.startsWith(PINS)) {
          String value = line.substring(PINS.length());
          contacts.add(CONTACTS.getOrDefault(value, line));
        }
      }
    } catch (IOException | UncheckedIOException ended) {
      contacts.add("the machine ended: " + ended);
    }
  }

  @AfterEach
  void powerDown() throws Exception {
    if (machine != null) {
      machine.destroyForcibly().waitFor();
    }
    if (cable != null) {
      cable.close();
    }
  }

  private String contact() throws InterruptedException {
    String next = contacts.poll(30, TimeUnit.SECONDS);
    assertTrue(next != null, "nothing happened at the contacts");
    return next;
  }

  private Input next() throws InterruptedException {
    Input input = inputs.poll(30, TimeUnit.SECONDS);
    assertTrue(input != null, "no input came");
    return input;
  }

  @Test
  void theSerialEdgeGreetsSetsAndFires() throws Exception {
    try (TriggerEdge edge =
        TriggerEdge.open(
            profile,
            () -> SerialTriggerPort.open(cable.near().toString(), profile.line()),
            InstantSource.system(),
            inputs::add)) {
      edge.perform(new Order.Greet());
      assertEquals(new Input.TriggerGreeted("SCENESPAN,CONTACT TRIGGER,0,1.0"), next());
      edge.perform(
          new Order.Fire(
              3, new Exposure(new Shutter(0.5), Aperture.ofThird(18), Iso.ofNominal(100))));
      assertEquals(new Input.ReleaseConfirmed(3), next());
      assertEquals(
          List.of("half-press closed", "release closed", "release open", "half-press open"),
          List.of(contact(), contact(), contact(), contact()));
    }
    assertTrue(inputs.isEmpty());
  }

  @Test
  void aSilentHostAndGarbageOpenTheContacts() throws Exception {
    try (SerialTriggerPort port = SerialTriggerPort.open(cable.near().toString(), profile.line())) {
      send(port, "SYST:HEAR 1.2;:EXP:TIME 600;:TRIG:REL 5\n");
      assertEquals(
          List.of("half-press closed", "release closed", "release open", "half-press open"),
          List.of(contact(), contact(), contact(), contact()));
      send(port, "SYST:ERR?;HEAR 0;:TRIG:DONE?\n");
      assertEquals("-365,\"Time out error\";0", line(port));

      send(port, "TRIG:REL 6\n");
      assertEquals(List.of("half-press closed", "release closed"), List.of(contact(), contact()));
      send(port, "\u0000\u00ffTRIG:REL 7\nSYST:ERR?;:TRIG:DONE?\n");
      assertEquals(List.of("release open", "half-press open"), List.of(contact(), contact()));
      assertEquals("-360,\"Communication error\";0", line(port));
    }
  }
}

package org.scenespan.firmware;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.scenespan.Needs;
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
 * The reference firmware at one end of a pseudo-terminal pair, the real serial edge at the other;
 * the cable between them can be pulled while the device keeps its power.
 */
@Timeout(120)
class FirmwareDeviceIT {
  @TempDir static Path built;
  private static Path program;

  @TempDir Path folder;

  private final BlockingQueue<Input> inputs = new LinkedBlockingQueue<>();
  private Path near;
  private Path far;
  private Process cable;
  private Process device;

  /** One line of the device's log: a time in microseconds, and what happened. */
  private record Told(long micros, String what) {}

  @BeforeAll
  static void compile() throws Exception {
    program = Firmware.program("device", built);
  }

  @BeforeEach
  void plugIn() throws Exception {
    near = folder.resolve("near");
    far = folder.resolve("far");
    connect();
  }

  @AfterEach
  void unplug() throws Exception {
    if (device != null) {
      device.getOutputStream().close();
      assertTrue(device.waitFor(30, TimeUnit.SECONDS), "the device ends");
      assertEquals(0, device.exitValue(), "the device ends without a fault");
    }
    if (cable != null) {
      pullOut();
    }
  }

  private void connect() throws Exception {
    Path socat = Needs.tool("firmware", "socat");
    cable =
        new ProcessBuilder(
                socat.toString(),
                "-d",
                "-d",
                "pty,raw,echo=0,link=" + near,
                "pty,raw,echo=0,link=" + far)
            .redirectErrorStream(true)
            .start();
    // It says so when both ends are there; what it says later fits into the pipe.
    var said = cable.inputReader();
    for (String line = said.readLine(); ; line = said.readLine()) {
      assertTrue(line != null, "socat ended");
      if (line.contains("starting data transfer loop")) {
        return;
      }
    }
  }

  private void pullOut() throws Exception {
    cable.destroyForcibly();
    assertTrue(cable.waitFor(30, TimeUnit.SECONDS));
    Files.deleteIfExists(near);
    Files.deleteIfExists(far);
  }

  private void powerUp(String limits) throws IOException {
    device =
        new ProcessBuilder(program.toString(), far.toString(), limits)
            .redirectErrorStream(true)
            .start();
    await("line up");
  }

  /** Reads the device's log until something happened, and gives the log up to that. */
  private List<Told> await(String what) throws IOException {
    List<Told> log = new ArrayList<>();
    while (true) {
      String line = device.inputReader().readLine();
      assertTrue(line != null, "the device ended before \"" + what + "\": " + log);
      String[] parts = line.split(" ", 2);
      assertTrue(parts[0].matches("\\d+"), line);
      log.add(new Told(Long.parseLong(parts[0]), parts[1]));
      if (parts[1].equals(what)) {
        return log;
      }
    }
  }

  private static List<String> words(List<Told> log) {
    return log.stream().map(Told::what).toList();
  }

  /** The clock has 32 bits and may wrap between the two. */
  private static long between(Told first, Told second) {
    return second.micros - first.micros & 0xffffffffL;
  }

  private TriggerEdge open(Profile profile) throws IOException {
    return TriggerEdge.open(
        profile,
        () -> SerialTriggerPort.open(near.toString(), profile.line()),
        InstantSource.system(),
        inputs::add);
  }

  private static Profile profile(String name) {
    return new Profiles(Optional.empty()).load(name);
  }

  private static Order.Fire fire(int shot, double seconds, Iso iso) {
    return new Order.Fire(shot, new Exposure(new Shutter(seconds), Aperture.ofThird(18), iso));
  }

  private static Order.Fire fire(int shot, double seconds) {
    return fire(shot, seconds, Iso.ofNominal(100));
  }

  private Input next() throws InterruptedException {
    Input input = inputs.poll(30, TimeUnit.SECONDS);
    assertTrue(input != null, "no input came");
    return input;
  }

  private static String line(SerialTriggerPort port) {
    StringBuilder line = new StringBuilder();
    byte[] one = new byte[1];
    while (line.indexOf("\n") < 0) {
      int count = port.read(one);
      assertTrue(count >= 0, "the port is gone after \"" + line + "\"");
      if (count == 1) {
        line.append((char) one[0]);
      }
    }
    return line.toString().strip();
  }

  private static void send(SerialTriggerPort port, String text) throws IOException {
    port.write(text.getBytes(StandardCharsets.ISO_8859_1));
  }

  @Test
  void theReferenceProfileGreetsSetsFiresAndIsRefused() throws Exception {
    powerUp("protocol");
    try (TriggerEdge edge = open(profile("reference-trigger"))) {
      edge.perform(new Order.Greet());
      assertEquals(new Input.TriggerGreeted("SCENESPAN,CONTACT TRIGGER,0,1.0"), next());

      edge.perform(fire(7, 1.0 / 128));
      assertEquals(new Input.ReleaseConfirmed(7), next());
      assertEquals(
          List.of("half-press closed", "release closed", "release open", "half-press open"),
          words(await("half-press open")));

      edge.perform(new Order.ReadMeter());
      assertEquals(
          new Input.MeterUnread("the meter answered EV 9.91E37, which no scene has"), next());

      edge.perform(fire(8, 1.0 / 128, Iso.ofNominal(51200)));
      assertEquals(
          new Input.ReleaseRefused(
              8, "the trigger refused \"EXPosure:ISO 51200\": -222 Data out of range"),
          next());

      edge.perform(fire(9, 0.5));
      assertEquals(new Input.ReleaseConfirmed(9), next());
      assertEquals(4, await("half-press open").size());
    }
    assertTrue(inputs.isEmpty());
  }

  @Test
  void theContactProfileHoldsTheReleaseForTheTime() throws Exception {
    powerUp("contact");
    try (TriggerEdge edge = open(profile("reference-trigger-contact"))) {
      edge.perform(new Order.Greet());
      assertInstanceOf(Input.TriggerGreeted.class, next());
      edge.perform(fire(1, 0.25));
      assertEquals(new Input.ReleaseConfirmed(1), next());
      List<Told> log = await("half-press open");
      assertEquals(
          List.of("half-press closed", "release closed", "release open", "half-press open"),
          words(log));
      long settled = between(log.get(0), log.get(1));
      long held = between(log.get(1), log.get(2));
      // Never shorter; how much longer is this machine's business, not the core's.
      assertTrue(settled >= 100_000 && settled < 2_000_000, "settled for " + settled + " us");
      assertTrue(held >= 250_000 && held < 2_000_000, "held for " + held + " us");

      edge.perform(fire(2, 1.0 / 128));
      assertInstanceOf(Input.ReleaseRefused.class, next());
    }
  }

  @Test
  void aPulledCableOpensTheContactsAndTheDeviceIsThereAgain() throws Exception {
    powerUp("contact");
    try (TriggerEdge edge = open(profile("reference-trigger-contact"))) {
      edge.perform(new Order.Greet());
      assertInstanceOf(Input.TriggerGreeted.class, next());
      edge.perform(fire(5, 600));
      Told closed = last(await("release closed"));

      pullOut();
      List<Told> log = await("line lost");
      assertEquals(List.of("release open", "half-press open", "line lost"), words(log));
      long held = between(closed, log.get(0));
      assertTrue(held < 60_000_000, "held for " + held + " us");
      assertInstanceOf(Input.ReleaseUnconfirmed.class, next());
      assertInstanceOf(Input.TriggerLost.class, next());

      connect();
      await("line up");
      assertEquals(new Input.TriggerGreeted("SCENESPAN,CONTACT TRIGGER,0,1.0"), next());
      edge.perform(fire(6, 0.1));
      assertEquals(new Input.ReleaseConfirmed(6), next());
    }
  }

  private static Told last(List<Told> log) {
    return log.get(log.size() - 1);
  }

  @Test
  void aSilentHostOpensTheContacts() throws Exception {
    powerUp("contact");
    try (SerialTriggerPort port =
        SerialTriggerPort.open(near.toString(), profile("reference-trigger-contact").line())) {
      send(port, "SYST:HEAR 0.4;:EXP:TIME 600;:TRIG:REL 5\n");
      List<Told> log = await("half-press open");
      long held = between(log.get(0), last(log));
      assertTrue(held >= 400_000 && held < 60_000_000, "held for " + held + " us");
      send(port, "SYST:ERR?;:TRIG:DONE?\n");
      assertEquals("-365,\"Time out error\";0", line(port));
    }
  }

  @Test
  void garbageOpensTheContactsAndALongLineIsThrownAway() throws Exception {
    powerUp("contact");
    try (SerialTriggerPort port =
        SerialTriggerPort.open(near.toString(), profile("reference-trigger-contact").line())) {
      send(port, "X".repeat(10_000) + "\nSYST:ERR?;ERR?\n");
      assertEquals("-363,\"Input buffer overrun\";0,\"No error\"", line(port));

      send(port, "EXP:TIME 600;:TRIG:REL 5\n");
      await("release closed");
      send(port, "\u0000\u00ffTRIG:REL 6\nSYST:ERR?;:TRIG:DONE?\n");
      assertEquals(List.of("release open", "half-press open"), words(await("half-press open")));
      assertEquals("-360,\"Communication error\";0", line(port));
    }
  }
}

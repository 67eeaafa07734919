package org.scenespan.firmware;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.scenespan.firmware.DeviceLog.between;
import static org.scenespan.firmware.DeviceLog.last;
import static org.scenespan.firmware.DeviceLog.words;
import static org.scenespan.firmware.SpokenLines.line;
import static org.scenespan.firmware.SpokenLines.send;

import java.io.IOException;
import java.nio.file.Path;
import java.time.InstantSource;
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
import org.scenespan.PtyPair;
import org.scenespan.firmware.DeviceLog.Told;
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
  private PtyPair cable;
  private Process device;

  @BeforeAll
  static void compile() throws Exception {
    program = Firmware.program("device", built);
  }

  @BeforeEach
  void plugIn() throws Exception {
    cable = PtyPair.in(folder, "firmware");
  }

  @AfterEach
  void unplug() throws Exception {
    if (device != null) {
      device.getOutputStream().close();
      assertTrue(device.waitFor(30, TimeUnit.SECONDS), "the device ends");
      assertEquals(0, device.exitValue(), "the device ends without a fault");
    }
    if (cable != null) {
      cable.close();
    }
  }

  private void powerUp(String limits) throws IOException {
    device =
        new ProcessBuilder(program.toString(), cable.far().toString(), limits)
            .redirectErrorStream(true)
            .start();
    DeviceLog.await(device, "line up");
  }

  private TriggerEdge open(Profile profile) throws IOException {
    return TriggerEdge.open(
        profile,
        () -> SerialTriggerPort.open(cable.near().toString(), profile.line()),
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
          words(DeviceLog.await(device, "half-press open")));

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
      assertEquals(4, DeviceLog.await(device, "half-press open").size());
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
      List<Told> log = DeviceLog.await(device, "half-press open");
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
      Told closed = last(DeviceLog.await(device, "release closed"));

      cable.pull();
      List<Told> log = DeviceLog.await(device, "line lost");
      assertEquals(List.of("release open", "half-press open", "line lost"), words(log));
      long held = between(closed, log.get(0));
      assertTrue(held < 60_000_000, "held for " + held + " us");
      assertInstanceOf(Input.ReleaseUnconfirmed.class, next());
      assertInstanceOf(Input.TriggerLost.class, next());

      cable.plug();
      DeviceLog.await(device, "line up");
      assertEquals(new Input.TriggerGreeted("SCENESPAN,CONTACT TRIGGER,0,1.0"), next());
      edge.perform(fire(6, 0.1));
      assertEquals(new Input.ReleaseConfirmed(6), next());
    }
  }

  @Test
  void aSilentHostOpensTheContacts() throws Exception {
    powerUp("contact");
    try (SerialTriggerPort port =
        SerialTriggerPort.open(
            cable.near().toString(), profile("reference-trigger-contact").line())) {
      long sent = System.nanoTime();
      send(port, "SYST:HEAR 0.4;:EXP:TIME 600;:TRIG:REL 5\n");
      List<Told> log = DeviceLog.await(device, "half-press open");
      long open = (System.nanoTime() - sent) / 1000;
      // The silence counts from what was heard, which on a busy machine is before the contacts
      // close.
      assertTrue(open >= 400_000, "open " + open + " us after the host's last word");
      long held = between(log.get(0), last(log));
      assertTrue(held < 60_000_000, "held for " + held + " us");
      send(port, "SYST:ERR?;:TRIG:DONE?\n");
      assertEquals("-365,\"Time out error\";0", line(port));
    }
  }

  @Test
  void garbageOpensTheContactsAndALongLineIsThrownAway() throws Exception {
    powerUp("contact");
    try (SerialTriggerPort port =
        SerialTriggerPort.open(
            cable.near().toString(), profile("reference-trigger-contact").line())) {
      send(port, "X".repeat(10_000) + "\nSYST:ERR?;ERR?\n");
      assertEquals("-363,\"Input buffer overrun\";0,\"No error\"", line(port));

      send(port, "EXP:TIME 600;:TRIG:REL 5\n");
      DeviceLog.await(device, "release closed");
      send(port, "\u0000\u00ffTRIG:REL 6\nSYST:ERR?;:TRIG:DONE?\n");
      assertEquals(
          List.of("release open", "half-press open"),
          words(DeviceLog.await(device, "half-press open")));
      assertEquals("-360,\"Communication error\";0", line(port));
    }
  }
}

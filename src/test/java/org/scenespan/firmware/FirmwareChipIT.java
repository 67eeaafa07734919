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
import org.scenespan.Needs;
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
 * The 8-bit board's own program, cross-compiled, on a simulated chip: its interrupts, its timer,
 * its USART and its watchdog run, and the product's serial edge talks to it. Times are the chip's
 * own.
 */
@Timeout(120)
class FirmwareChipIT {
  private static final String IDENTITY = "SCENESPAN,CONTACT TRIGGER,0,1.0";

  /** A poll of the loop takes less than this much of the chip's time. */
  private static final long POLL_MICROS = 1_000;

  @TempDir static Path built;
  private static Path chip;
  private static Path image;

  @TempDir Path folder;

  private final BlockingQueue<Input> inputs = new LinkedBlockingQueue<>();
  private final Profile profile = new Profiles(Optional.empty()).load("reference-trigger-contact");
  private PtyPair cable;
  private Process device;

  @BeforeAll
  static void compile() throws Exception {
    chip = Firmware.chip(built);
    image = built.resolve("avr8.bin");
    Firmware.run(
        List.of(
            Needs.tool("boards", "avr-objcopy").toString(),
            "-O",
            "binary",
            Firmware.eightBits(built).toString(),
            image.toString()));
  }

  @BeforeEach
  void powerUp() throws Exception {
    cable = PtyPair.in(folder, "boards");
    device =
        new ProcessBuilder(chip.toString(), image.toString(), cable.far().toString())
            .redirectError(ProcessBuilder.Redirect.DISCARD)
            .start();
    await("listens");
  }

  @AfterEach
  void powerDown() throws Exception {
    if (device != null) {
      device.getOutputStream().close();
      assertTrue(device.waitFor(30, TimeUnit.SECONDS), "the chip ends");
      assertEquals(0, device.exitValue(), "the chip ends without a fault");
    }
    if (cable != null) {
      cable.close();
    }
  }

  private TriggerEdge open() throws IOException {
    return TriggerEdge.open(
        profile,
        () -> SerialTriggerPort.open(cable.near().toString(), profile.line()),
        InstantSource.system(),
        inputs::add);
  }

  private SerialTriggerPort port() throws IOException {
    return SerialTriggerPort.open(cable.near().toString(), profile.line());
  }

  private static Order.Fire fire(int shot, double seconds) {
    return new Order.Fire(
        shot, new Exposure(new Shutter(seconds), Aperture.ofThird(18), Iso.ofNominal(100)));
  }

  private Input next() throws InterruptedException {
    Input input = inputs.poll(30, TimeUnit.SECONDS);
    assertTrue(input != null, "no input came");
    return input;
  }

  private List<Told> await(String what) throws IOException {
    return DeviceLog.await(device, what);
  }

  private static void assertWithin(long least, long most, long micros) {
    assertTrue(micros >= least && micros <= most, micros + " us, not " + least + " to " + most);
  }

  @Test
  void theSerialEdgeGreetsSetsAndFiresAndTheTimeIsTheTimersOwn() throws Exception {
    try (TriggerEdge edge = open()) {
      edge.perform(new Order.Greet());
      assertEquals(new Input.TriggerGreeted(IDENTITY), next());
      int shot = 1;
      for (double seconds : List.of(0.1, 0.25, 2.0)) {
        edge.perform(fire(shot, seconds));
        List<Told> log = await("half-press open");
        assertEquals(
            List.of("half-press closed", "release closed", "release open", "half-press open"),
            words(log));
        assertWithin(100_000 - POLL_MICROS, 100_000 + POLL_MICROS, between(log.get(0), log.get(1)));
        long wanted = Math.round(seconds * 1e6);
        assertWithin(wanted - POLL_MICROS, wanted + POLL_MICROS, between(log.get(1), log.get(2)));
        assertEquals(new Input.ReleaseConfirmed(shot), next());
        shot++;
      }
      edge.perform(fire(shot, 1.0 / 128));
      assertInstanceOf(Input.ReleaseRefused.class, next());
    }
    assertTrue(inputs.isEmpty());
  }

  @Test
  void aSilentHostOpensTheContacts() throws Exception {
    try (SerialTriggerPort port = port()) {
      send(port, "SYST:HEAR 0.4;:EXP:TIME 600;:TRIG:REL 5\n");
      List<Told> log = await("half-press open");
      assertWithin(400_000 - POLL_MICROS, 400_000 + POLL_MICROS, between(log.get(0), last(log)));
      send(port, "SYST:ERR?;:TRIG:DONE?\n");
      assertEquals("-365,\"Time out error\";0", line(port));
    }
  }

  @Test
  void garbageOpensTheContactsAndALongLineIsThrownAway() throws Exception {
    try (SerialTriggerPort port = port()) {
      send(port, "X".repeat(3_000) + "\nSYST:ERR?;ERR?\n");
      assertEquals("-363,\"Input buffer overrun\";0,\"No error\"", line(port));
      send(port, "EXP:TIME 600;:TRIG:REL 5\n");
      await("release closed");
      send(port, "\u0000\u00ffTRIG:REL 6\nSYST:ERR?;:TRIG:DONE?\n");
      assertEquals(List.of("release open", "half-press open"), words(await("half-press open")));
      assertEquals("-360,\"Communication error\";0", line(port));
    }
  }

  /** The chip's watchdog is of 250 ms, the contacts fall with the reset, and it greets anew. */
  @Test
  void aProgramThatHangsIsResetByTheWatchdogAndTheContactsOpen() throws Exception {
    try (SerialTriggerPort port = port()) {
      send(port, "EXP:TIME 600;:TRIG:REL 5\n");
      await("release closed");
      device.getOutputStream().write("hang\n".getBytes());
      device.getOutputStream().flush();
      Told hung = last(await("hangs"));
      List<Told> log = await("reset by the watchdog");
      assertEquals(List.of("release open", "half-press open", "reset by the watchdog"), words(log));
      assertWithin(200_000, 300_000, between(hung, log.get(0)));
      await("listens");
      send(port, "*IDN?;:TRIG:DONE?\n");
      assertEquals(IDENTITY + ";0", line(port));
    }
  }
}

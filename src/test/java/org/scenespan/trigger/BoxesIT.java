package org.scenespan.trigger;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.scenespan.Needs;
import org.scenespan.light.Aperture;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;
import org.scenespan.session.Input;

/** The generic boxes on a real pseudo-terminal, with the real serial library and in real time. */
@Timeout(120)
class BoxesIT {
  private static final Exposure HALF_A_SECOND =
      new Exposure(new Shutter(0.5), Aperture.ofThird(18), Iso.ofThird(0));
  private static final int SHOTS = 3;

  @TempDir Path folder;

  private final BlockingQueue<Input> inputs = new LinkedBlockingQueue<>();
  private Path near;
  private Process cable;

  @BeforeEach
  void plugIn() throws Exception {
    near = folder.resolve("near");
    cable =
        new ProcessBuilder(
                Needs.tool("serial", "socat").toString(),
                "-d",
                "-d",
                "pty,raw,echo=0,link=" + near,
                "stdio")
            .start();
    BufferedReader said = cable.errorReader();
    for (String line = said.readLine(); ; line = said.readLine()) {
      assertTrue(line != null, "socat ended");
      if (line.contains("starting data transfer loop")) {
        return;
      }
    }
  }

  @AfterEach
  void pullOut() throws Exception {
    if (cable != null) {
      cable.destroyForcibly();
      assertTrue(cable.waitFor(30, TimeUnit.SECONDS));
    }
  }

  private Input next() throws InterruptedException {
    Input input = inputs.poll(30, TimeUnit.SECONDS);
    assertTrue(input != null, "no input came");
    return input;
  }

  private void say(byte[] bytes) {
    try {
      OutputStream out = cable.getOutputStream();
      out.write(bytes);
      out.flush();
    } catch (IOException gone) {
      // The cable is pulled.
    }
  }

  private void listen(BoxDevice device) {
    try {
      InputStream in = cable.getInputStream();
      byte[] buffer = new byte[256];
      for (int count = in.read(buffer); count >= 0; count = in.read(buffer)) {
        device.hear(Arrays.copyOf(buffer, count));
      }
    } catch (IOException gone) {
      // The cable is pulled.
    }
  }

  @ParameterizedTest
  @ValueSource(strings = {"timed-contact", "timed-contact-bytes", "open-close", "release-only"})
  void greetsAndFires(String name) throws Exception {
    Profile profile = new Profiles(Optional.empty()).load(name);
    try (BoxDevice device = new BoxDevice(profile, this::say);
        TriggerEdge edge =
            TriggerEdge.open(
                profile,
                PortOpener.of(near.toString(), profile),
                InstantSource.system(),
                inputs::add)) {
      Thread thread = new Thread(() -> listen(device), "box");
      thread.start();
      edge.perform(new Order.Greet());
      if (!profile.notices().isEmpty()) {
        assertEquals(new Input.TriggerNoticed("battery", "3.71 V"), next());
      }
      assertInstanceOf(Input.TriggerGreeted.class, next());
      List<Double> lags = new ArrayList<>();
      List<Double> errors = new ArrayList<>();
      List<Instant> pressed = new ArrayList<>();
      for (int shot = 1; shot <= SHOTS; shot++) {
        edge.perform(new Order.Fire(shot, HALF_A_SECOND));
        Input.ReleaseConfirmed confirmed = assertInstanceOf(Input.ReleaseConfirmed.class, next());
        Instant answered = Instant.now();
        assertEquals(shot, confirmed.shot());
        pressed.add(edge.pressedAt().orElseThrow());
        lags.add(millis(Duration.between(pressed.get(shot - 1), answered)));
        confirmed.exposed().ifPresent(exposed -> errors.add(millis(exposed) - 500));
      }
      boolean itself = profile.kind() == Profile.Kind.RELEASE_ONLY;
      assertEquals(itself ? 0 : SHOTS, errors.size());
      for (double lag : lags) {
        // Not before the exposure is over, but for the clock's own grain.
        assertTrue(itself || lag >= 495, lags.toString());
      }
      for (int shot = 0; shot < device.closed().size(); shot++) {
        Instant opened = device.opened().get(shot);
        Instant closed = device.closed().get(shot);
        // The host never closes early; a busy machine may hear either command late.
        double held = millis(Duration.between(pressed.get(shot), closed));
        assertTrue(held >= 495 && held < 5_500, "closed " + held + " ms after the press");
        // What is told is what the device did, to the milliseconds that it tells.
        assertEquals(millis(Duration.between(opened, closed)) - 500, errors.get(shot), 1);
      }
      if (device.closed().isEmpty()) {
        // These time the exposure themselves, and say so.
        assertTrue(errors.stream().allMatch(error -> error == 0), errors.toString());
      }
      assertEquals(List.of(1, 2, 3), device.released());
      System.out.println(name + ": release to answer " + lags + " ms, exposure error " + errors);
      cable.destroyForcibly();
      thread.join(10_000);
    }
  }

  private static double millis(Duration time) {
    return time.toNanos() / 1e6;
  }

  @Test
  void aTerminalWithoutModemLinesIsNoTriggerOfContacts() {
    Profile contacts = new Profiles(Optional.empty()).load("modem-lines");
    assertEquals(
        "port \"" + near + "\" drives no modem lines, RTS and DTR; use an adapter that does",
        assertThrows(IOException.class, () -> PortOpener.of(near.toString(), contacts).open())
            .getMessage());
  }
}

package org.scenespan.trigger;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.condition.DisabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.scenespan.PtyPair;
import org.scenespan.light.Aperture;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;
import org.scenespan.session.Input;

/** A device that talks without end, as fast as the line takes it, over a real port. */
@Timeout(60)
@DisabledOnOs(value = OS.WINDOWS, disabledReason = "Windows has no pseudo-terminals")
class FloodIT {
  /** What may be held of a flood, bytes: a queue of reads, and much to spare. */
  private static final long MOST_HELD = 16 << 20;

  private static final int ORDERS = 2;

  /** Of two greetings and two releases, and a loss and a return now and then. */
  private static final int MOST_INPUTS = 20;

  @TempDir private Path folder;

  private final Profile profile = new Profiles(Optional.empty()).load("reference-trigger");
  private final BlockingQueue<Input> inputs = new LinkedBlockingQueue<>();

  @ParameterizedTest
  @ValueSource(strings = {"cat /dev/urandom", "tr '\\0' X < /dev/zero", "yes '0,\"No error\"'"})
  void isHeardWithoutGrowingAndLeft(String talker) throws Exception {
    try (PtyPair cable = PtyPair.in(folder, "serial");
        TriggerEdge edge =
            TriggerEdge.open(
                profile,
                () -> SerialTriggerPort.open(cable.near().toString(), profile.line()),
                InstantSource.system(),
                inputs::add,
                Duration.ofMillis(100))) {
      long before = held();
      Process device =
          new ProcessBuilder("sh", "-c", "exec " + talker)
              .redirectOutput(cable.far().toFile())
              .start();
      try {
        // Orders go on until it is clear that nothing is to be had from this device.
        List<Input> heard = new ArrayList<>();
        for (int shot = 1; shot <= ORDERS; shot++) {
          edge.perform(new Order.Greet());
          edge.perform(fire(shot));
          while (!isEndOf(shot, heard)) {
            heard.add(next());
          }
        }
        long more = held() - before;
        assertTrue(device.isAlive(), "it still talks");
        assertTrue(more < MOST_HELD, more + " bytes are held");
        assertTrue(heard.size() <= MOST_INPUTS, heard.size() + " inputs: " + heard);
        assertTrue(heard.stream().noneMatch(Input.ReleaseConfirmed.class::isInstance));
      } finally {
        device.destroyForcibly().waitFor();
      }
      // It comes to its senses: what it has said by then is read and dropped.
      TriggerPort far = SerialTriggerPort.open(cable.far().toString(), profile.line());
      Thread senses = new Thread(() -> answer(far), "device");
      senses.start();
      try {
        Input input = next();
        while (!(input instanceof Input.TriggerGreeted)) {
          input = next();
        }
        edge.perform(fire(ORDERS + 1));
        assertEquals(new Input.ReleaseConfirmed(ORDERS + 1), next());
      } finally {
        far.close();
        senses.join(10_000);
      }
    }
  }

  private static void answer(TriggerPort port) {
    SmallDevice device = new SmallDevice();
    byte[] buffer = new byte[256];
    for (int count = port.read(buffer); count >= 0; count = port.read(buffer)) {
      String said = device.hear(Arrays.copyOf(buffer, count));
      try {
        if (!said.isEmpty()) {
          port.write(said.getBytes(StandardCharsets.US_ASCII));
        }
      } catch (IOException gone) {
        return;
      }
    }
  }

  private static boolean isEndOf(int shot, List<Input> heard) {
    return heard.stream()
        .anyMatch(
            input ->
                input instanceof Input.ReleaseRefused refused && refused.shot() == shot
                    || input instanceof Input.ReleaseUnconfirmed lost && lost.shot() == shot
                    || input instanceof Input.ReleaseConfirmed done && done.shot() == shot);
  }

  private static Order.Fire fire(int shot) {
    return new Order.Fire(
        shot, new Exposure(Shutter.ofThird(-21), Aperture.ofThird(18), Iso.ofThird(0)));
  }

  private Input next() throws InterruptedException {
    Input input = inputs.poll(30, TimeUnit.SECONDS);
    assertTrue(input != null, "no input came");
    return input;
  }

  private static long held() {
    Runtime machine = Runtime.getRuntime();
    System.gc();
    return machine.totalMemory() - machine.freeMemory();
  }
}

package org.scenespan.trigger;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.scenespan.light.Aperture;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;
import org.scenespan.session.Input;

/** Contacts on modem lines in real time; a pseudo-terminal has none, so a small port stands in. */
@Timeout(60)
class ContactsEdgeTest {
  /** A port that notes what its lines do, and whose cable can be pulled. */
  private static final class LinesPort implements TriggerPort {
    final BlockingQueue<String> switched = new LinkedBlockingQueue<>();
    final BlockingQueue<Instant> times = new LinkedBlockingQueue<>();
    private final BlockingQueue<Integer> ends = new LinkedBlockingQueue<>();
    private volatile boolean stuck;

    @Override
    public int read(byte[] buffer) {
      try {
        Integer end = ends.poll(100, TimeUnit.MILLISECONDS);
        return end == null ? 0 : end;
      } catch (InterruptedException e) {
        return GONE;
      }
    }

    @Override
    public void write(byte[] bytes) throws IOException {
      throw new IOException("nobody is to be spoken to");
    }

    @Override
    public void set(ModemLine line, boolean asserted) throws IOException {
      if (stuck) {
        throw new IOException("port \"x\" did not switch its line " + line);
      }
      times.add(Instant.now());
      switched.add(line + (asserted ? "+" : "-"));
    }

    @Override
    public void close() {
      // As the real ones do.
      switched.add("closed");
      ends.add(GONE);
    }
  }

  private final LinesPort port = new LinesPort();
  private final BlockingQueue<Input> inputs = new LinkedBlockingQueue<>();

  private TriggerEdge open() throws IOException {
    ObjectNode profile = ProfileTexts.shipped("modem-lines").put("halfPressMillis", 0);
    return TriggerEdge.open(
        ProfileReader.read("x.json", profile),
        () -> port,
        InstantSource.system(),
        inputs::add,
        Duration.ofSeconds(30));
  }

  private Input next() throws InterruptedException {
    Input input = inputs.poll(30, TimeUnit.SECONDS);
    assertTrue(input != null, "no input came");
    return input;
  }

  private List<String> switched(int count) throws InterruptedException {
    List<String> all = new ArrayList<>();
    while (all.size() < count) {
      String one = port.switched.poll(30, TimeUnit.SECONDS);
      assertTrue(one != null, "only " + all);
      all.add(one);
    }
    return all;
  }

  private static Order.Fire fire(double seconds) {
    return new Order.Fire(
        1, new Exposure(new Shutter(seconds), Aperture.ofThird(18), Iso.ofThird(0)));
  }

  @Test
  void theContactIsHeldForTheExposure() throws Exception {
    try (TriggerEdge edge = open()) {
      edge.perform(new Order.Greet());
      assertInstanceOf(Input.TriggerGreeted.class, next());
      assertEquals(List.of("RTS-", "DTR-"), switched(2));
      port.times.clear();
      edge.perform(fire(0.5));
      assertEquals(new Input.ReleaseConfirmed(1), next());
      assertEquals(List.of("DTR+", "RTS+", "RTS-", "DTR-"), switched(4));
      List<Instant> times = List.copyOf(port.times);
      Duration held = Duration.between(times.get(1), times.get(2));
      // Never less than asked for, but for the clock's own grain; more only on a busy machine.
      assertTrue(held.toMillis() >= 495 && held.toMillis() < 5_000, held.toString());
    }
    assertEquals(List.of("closed"), switched(1));
  }

  @Test
  void endingInTheMiddleOpensTheContacts() throws Exception {
    TriggerEdge edge = open();
    edge.perform(fire(3600));
    assertEquals(List.of("DTR+", "RTS+"), switched(2));
    edge.close();
    assertEquals(List.of("RTS-", "DTR-", "closed"), switched(3));
  }

  @Test
  void aLineThatCannotBeSwitchedIsALostTriggerAndThePortIsClosed() throws Exception {
    port.stuck = true;
    try (TriggerEdge edge = open()) {
      edge.perform(fire(1));
      assertEquals(
          new Input.ReleaseUnconfirmed(1, "port \"x\" did not switch its line DTR"), next());
      assertEquals(new Input.TriggerLost("port \"x\" did not switch its line DTR"), next());
      assertEquals(List.of("closed"), switched(1));
    }
  }

  @Test
  void aPulledCableClosesThePortAndLeavesTheShotUnknown() throws Exception {
    try (TriggerEdge edge = open()) {
      edge.perform(fire(3600));
      assertEquals(List.of("DTR+", "RTS+"), switched(2));
      port.ends.add(TriggerPort.GONE);
      assertEquals(new Input.ReleaseUnconfirmed(1, "the port is gone"), next());
      assertEquals(new Input.TriggerLost("the port is gone"), next());
      assertEquals(List.of("closed"), switched(1));
    }
  }
}

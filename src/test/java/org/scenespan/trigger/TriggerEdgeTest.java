package org.scenespan.trigger;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.InstantSource;
import java.util.List;
import java.util.Set;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.scenespan.light.Aperture;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;
import org.scenespan.session.Input;

@Timeout(60)
class TriggerEdgeTest {
  private static final Order.Fire FIRE =
      new Order.Fire(1, new Exposure(Shutter.ofThird(-21), Aperture.ofThird(18), Iso.ofThird(0)));

  /** An in-process port with a small device at its end, whose cable can be pulled. */
  private static final class CablePort implements TriggerPort {
    private static final byte[] PULLED = new byte[0];

    final SmallDevice device = new SmallDevice();
    private final BlockingQueue<byte[]> replies = new LinkedBlockingQueue<>();
    private final boolean deaf;
    private volatile boolean gone;
    private volatile boolean broken;

    CablePort(boolean deaf) {
      this.deaf = deaf;
    }

    void pull() {
      gone = true;
      replies.add(PULLED);
    }

    @Override
    public int read(byte[] buffer) {
      try {
        if (broken) {
          throw new IllegalStateException("broken");
        }
        byte[] reply = replies.poll(100, TimeUnit.MILLISECONDS);
        if (reply == PULLED || (gone && reply == null)) {
          return GONE;
        }
        if (reply == null) {
          return 0;
        }
        System.arraycopy(reply, 0, buffer, 0, reply.length);
        return reply.length;
      } catch (InterruptedException e) {
        Thread.currentThread().interrupt();
        return GONE;
      }
    }

    @Override
    public void write(byte[] bytes) throws IOException {
      if (gone) {
        throw new IOException("the cable is pulled");
      }
      String reply = deaf ? "" : device.hear(bytes);
      if (!reply.isEmpty()) {
        replies.add(reply.getBytes(StandardCharsets.US_ASCII));
      }
    }

    @Override
    public void close() {
      pull();
    }
  }

  private final Profile profile = quick();
  private final BlockingQueue<Input> inputs = new LinkedBlockingQueue<>();
  private final BlockingQueue<CablePort> ports = new LinkedBlockingQueue<>();
  private final CountDownLatch refusedToOpen = new CountDownLatch(2);
  private volatile boolean deaf;
  private volatile boolean unplugged;
  private Set<Thread> before = Set.of();
  private TriggerEdge edge;

  /** The shipped profile with short time-outs, so that a deaf device does not stop the tests. */
  private static Profile quick() {
    ObjectNode json = ProfileTexts.with("/settleMillis", 1);
    ((ObjectNode) json.get("greeting")).put("timeoutMillis", 50).put("retries", 1);
    return ProfileReader.read("x.json", json);
  }

  private TriggerPort openPort() throws IOException {
    if (unplugged) {
      refusedToOpen.countDown();
      throw new IOException("no such port");
    }
    CablePort port = new CablePort(deaf);
    ports.add(port);
    return port;
  }

  private CablePort start() throws Exception {
    edge =
        TriggerEdge.open(
            profile, this::openPort, InstantSource.system(), inputs::add, Duration.ofMillis(20));
    return ports.remove();
  }

  private Input next() throws InterruptedException {
    Input input = inputs.poll(30, TimeUnit.SECONDS);
    assertTrue(input != null, "no input came");
    return input;
  }

  /** Another class's frames may have left a thread that reads on, which is none of ours. */
  @BeforeEach
  void seeWhoIsThere() {
    before = Thread.getAllStackTraces().keySet();
  }

  @AfterEach
  void everyThreadEnds() {
    if (edge != null) {
      edge.close();
    }
    List<String> left =
        Thread.getAllStackTraces().keySet().stream()
            .filter(Thread::isAlive)
            .filter(thread -> !before.contains(thread))
            .map(Thread::getName)
            .filter(name -> name.startsWith("scenespan-"))
            .filter(name -> !name.equals("scenespan-pixels"))
            .toList();
    assertEquals(List.of(), left);
  }

  @Test
  void ordersAreDoneInTurn() throws Exception {
    CablePort port = start();
    edge.perform(new Order.Greet());
    edge.perform(new Order.ReadMeter());
    edge.perform(FIRE);
    assertEquals(new Input.TriggerGreeted(SmallDevice.IDENTITY), next());
    assertInstanceOf(Input.SceneMetered.class, next());
    assertEquals(new Input.ReleaseConfirmed(1), next());
    edge.close();
    assertEquals(List.of(1), port.device.released());
  }

  @Test
  void aPulledCableIsToldOnceAndTheReturnIsAGreeting() throws Exception {
    CablePort port = start();
    edge.perform(new Order.Greet());
    assertInstanceOf(Input.TriggerGreeted.class, next());
    unplugged = true;
    port.pull();
    assertEquals(new Input.TriggerLost("the port is gone"), next());
    assertTrue(refusedToOpen.await(30, TimeUnit.SECONDS), "it does not try again");
    edge.perform(FIRE);
    assertEquals(new Input.ReleaseRefused(1, "the trigger is away: the port is gone"), next());
    edge.perform(new Order.ReadMeter());
    assertInstanceOf(Input.MeterUnread.class, next());
    unplugged = false;
    assertEquals(new Input.TriggerGreeted(SmallDevice.IDENTITY), next());
    edge.perform(FIRE);
    assertEquals(new Input.ReleaseConfirmed(1), next());
    assertTrue(inputs.isEmpty());
  }

  @Test
  void aDeafDeviceIsLostAndGreetedAgainWhenItHears() throws Exception {
    deaf = true;
    start();
    edge.perform(new Order.Greet());
    assertEquals(
        new Input.TriggerLost("no answer to \"*IDN?\" within 50 ms (asked 2 times)"), next());
    deaf = false;
    assertEquals(new Input.TriggerGreeted(SmallDevice.IDENTITY), next());
  }

  @Test
  void aWriteThatFailsIsALostTriggerAndTheShotIsSurelyNotTaken() throws Exception {
    CablePort port = start();
    unplugged = true;
    port.gone = true;
    edge.perform(FIRE);
    Input first = next();
    Input second = next();
    // Reader and writer notice at the same time; either way the shot is refused.
    assertTrue(
        first instanceof Input.ReleaseRefused || second instanceof Input.ReleaseRefused,
        first + ", " + second);
    assertTrue(
        first instanceof Input.TriggerLost || second instanceof Input.TriggerLost,
        first + ", " + second);
  }

  @Test
  void aPortThatCannotBeOpenedAtTheStartIsAnError() {
    unplugged = true;
    assertEquals("no such port", assertThrows(IOException.class, this::start).getMessage());
  }

  @Test
  void aPortThatThrowsIsAPortThatIsGone() throws Exception {
    CablePort port = start();
    port.broken = true;
    assertEquals(new Input.TriggerLost("the port is gone"), next());
    assertEquals(new Input.TriggerGreeted(SmallDevice.IDENTITY), next());
  }

  @Test
  void tooManyOrdersAreABrokenPromise() throws Exception {
    deaf = true;
    start();
    edge.perform(new Order.Greet());
    assertThrows(
        IllegalStateException.class,
        () -> {
          for (int i = 0; i < 1000; i++) {
            edge.perform(FIRE);
          }
        });
  }

  @Test
  void closingTwiceIsFine() throws Exception {
    start();
    edge.close();
    edge.close();
    edge.perform(FIRE);
    assertTrue(inputs.isEmpty());
  }
}

package org.scenespan.trigger;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.BufferedReader;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.InstantSource;
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
import org.scenespan.Needs;
import org.scenespan.light.Aperture;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;
import org.scenespan.session.Input;

/** RFC 2217 with an access server that others wrote, in front of a pseudo-terminal. */
@Timeout(120)
class AccessServerIT {
  private static final Order.Fire FIRE =
      new Order.Fire(7, new Exposure(Shutter.ofThird(-21), Aperture.ofThird(18), Iso.ofThird(0)));

  /** How often a server that has just been started is tried. */
  private static final int MOST_TRIES = 200;

  @TempDir Path folder;

  private final Profile profile = new Profiles(Optional.empty()).load("reference-trigger");
  private final BlockingQueue<Input> inputs = new LinkedBlockingQueue<>();
  private Process cable;
  private Process server;
  private String address;

  /** The cable is a pseudo-terminal on one side and the test's own pipe on the other. */
  @BeforeEach
  void start() throws Exception {
    Path socat = Needs.tool("serial", "socat");
    Path ser2net = Needs.tool("serial", "ser2net");
    Path near = folder.resolve("near");
    cable =
        new ProcessBuilder(socat.toString(), "-d", "-d", "pty,raw,echo=0,link=" + near, "stdio")
            .start();
    BufferedReader said = cable.errorReader();
    for (String line = said.readLine(); ; line = said.readLine()) {
      assertTrue(line != null, "socat ended");
      if (line.contains("starting data transfer loop")) {
        break;
      }
    }
    int port;
    try (ServerSocket free = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
      port = free.getLocalPort();
    }
    Path settings = folder.resolve("server.yaml");
    Files.writeString(
        settings,
        "connection: &trigger\n"
            + ("  accepter: telnet(rfc2217),tcp,127.0.0.1," + port + "\n")
            + ("  connector: serialdev," + near + ",9600n81,local\n"));
    server =
        new ProcessBuilder(
                ser2net.toString(), "-n", "-c", settings.toString(), "-P", folder + "/server.pid")
            .redirectErrorStream(true)
            .redirectOutput(folder.resolve("server.log").toFile())
            .start();
    address = "rfc2217://127.0.0.1:" + port;
  }

  @AfterEach
  void end() throws Exception {
    for (Process process : Arrays.asList(server, cable)) {
      if (process != null) {
        process.destroyForcibly();
        assertTrue(process.waitFor(30, TimeUnit.SECONDS));
      }
    }
  }

  /** The server takes a moment to listen. */
  private TriggerPort open() throws Exception {
    IOException last = new IOException("not tried");
    for (int tries = 0; tries < MOST_TRIES; tries++) {
      try {
        return PortOpener.of(address, profile).open();
      } catch (IOException notYet) {
        last = notYet;
        // Waits without sleeping: the server does not end by itself.
        assertTrue(!server.waitFor(50, TimeUnit.MILLISECONDS), "the server ended");
      }
    }
    throw last;
  }

  private Input next() throws InterruptedException {
    Input input = inputs.poll(30, TimeUnit.SECONDS);
    assertTrue(input != null, "no input came");
    return input;
  }

  @Test
  void aTriggerBehindItIsGreetedAndFires() throws Exception {
    SmallDevice device = new SmallDevice();
    Thread thread = new Thread(() -> answer(device), "device");
    thread.start();
    try (TriggerEdge edge =
        TriggerEdge.open(profile, this::opened, InstantSource.system(), inputs::add)) {
      edge.perform(new Order.Greet());
      assertEquals(new Input.TriggerGreeted(SmallDevice.IDENTITY), next());
      edge.perform(FIRE);
      assertEquals(new Input.ReleaseConfirmed(7), next());
      assertEquals(List.of(7), device.released());
      server.destroyForcibly();
      assertEquals(new Input.TriggerLost("the port is gone"), next());
    }
    cable.destroyForcibly();
    thread.join(10_000);
  }

  private TriggerPort opened() throws IOException {
    try {
      return open();
    } catch (IOException e) {
      throw e;
    } catch (Exception e) {
      throw new IOException(e);
    }
  }

  private void answer(SmallDevice device) {
    try {
      InputStream in = cable.getInputStream();
      OutputStream out = cable.getOutputStream();
      byte[] buffer = new byte[256];
      for (int count = in.read(buffer); count >= 0; count = in.read(buffer)) {
        out.write(device.hear(Arrays.copyOf(buffer, count)).getBytes(StandardCharsets.US_ASCII));
        out.flush();
      }
    } catch (IOException gone) {
      // The cable is pulled.
    }
  }

  @Test
  void everyByteComesThroughBothWays() throws Exception {
    byte[] all = new byte[256];
    for (int i = 0; i < all.length; i++) {
      all[i] = (byte) i;
    }
    try (TriggerPort port = open()) {
      port.write(all);
      assertArrayEquals(all, cable.getInputStream().readNBytes(all.length));
      cable.getOutputStream().write(all);
      cable.getOutputStream().flush();
      ByteArrayOutputStream back = new ByteArrayOutputStream();
      byte[] buffer = new byte[100];
      while (back.size() < all.length) {
        int count = port.read(buffer);
        assertTrue(count >= 0, "the port is gone");
        back.write(buffer, 0, count);
      }
      assertArrayEquals(all, back.toByteArray());
    }
  }
}

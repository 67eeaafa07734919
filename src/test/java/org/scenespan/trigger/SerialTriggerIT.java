package org.scenespan.trigger;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
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
import java.util.stream.Stream;
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

/** The real serial library over a real pair of pseudo-terminals. */
@Timeout(120)
class SerialTriggerIT {
  private static final Order.Fire FIRE =
      new Order.Fire(7, new Exposure(Shutter.ofThird(-21), Aperture.ofThird(18), Iso.ofThird(0)));

  @TempDir Path folder;

  private final Profile profile = new Profiles(Optional.empty()).load("reference-trigger");
  private final BlockingQueue<Input> inputs = new LinkedBlockingQueue<>();
  private Path near;
  private Path far;
  private Process cable;
  private Thread deviceThread;
  private volatile TriggerPort deviceEnd;

  @BeforeEach
  void plugIn() throws Exception {
    near = folder.resolve("near");
    far = folder.resolve("far");
    connect();
  }

  private void connect() throws Exception {
    Path socat = Needs.tool("serial", "socat");
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

  /** Puts a small device at the far end. */
  private SmallDevice attachDevice() throws IOException {
    SmallDevice device = new SmallDevice();
    TriggerPort port = SerialTriggerPort.open(far.toString(), profile.line());
    deviceEnd = port;
    deviceThread = new Thread(() -> answer(device, port), "device");
    deviceThread.start();
    return device;
  }

  private static void answer(SmallDevice device, TriggerPort port) {
    byte[] buffer = new byte[256];
    for (int count = port.read(buffer); count >= 0; count = port.read(buffer)) {
      byte[] heard = Arrays.copyOf(buffer, count);
      String replies = device.hear(heard);
      try {
        if (!replies.isEmpty()) {
          port.write(replies.getBytes(StandardCharsets.US_ASCII));
        }
      } catch (IOException gone) {
        return;
      }
    }
  }

  @AfterEach
  void unplug() throws Exception {
    if (deviceEnd != null) {
      deviceEnd.close();
      deviceThread.join(10_000);
    }
    if (cable != null) {
      pullOut();
    }
    assertEquals(List.of(), threadsLeft());
  }

  private static List<String> threadsLeft() {
    return Thread.getAllStackTraces().keySet().stream()
        .filter(thread -> thread.getName().startsWith("scenespan-"))
        .filter(SerialTriggerIT::outlives)
        .map(Thread::getName)
        .toList();
  }

  /** A writer that was told to end may need a moment. */
  private static boolean outlives(Thread thread) {
    try {
      thread.join(5_000);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
    return thread.isAlive();
  }

  private Input next() throws InterruptedException {
    Input input = inputs.poll(30, TimeUnit.SECONDS);
    assertTrue(input != null, "no input came");
    return input;
  }

  @Test
  void greetsFiresLosesTheCableAndComesBack() throws Exception {
    SmallDevice device = attachDevice();
    try (TriggerEdge edge =
        TriggerEdge.open(
            profile,
            () -> SerialTriggerPort.open(near.toString(), profile.line()),
            InstantSource.system(),
            inputs::add)) {
      edge.perform(new Order.Greet());
      assertEquals(new Input.TriggerGreeted(SmallDevice.IDENTITY), next());
      edge.perform(FIRE);
      assertEquals(new Input.ReleaseConfirmed(7), next());
      assertEquals(List.of(7), device.released());

      pullOut();
      assertInstanceOf(Input.TriggerLost.class, next());
      deviceEnd.close();
      deviceThread.join(10_000);

      connect();
      SmallDevice second = attachDevice();
      assertEquals(new Input.TriggerGreeted(SmallDevice.IDENTITY), next());
      edge.perform(FIRE);
      assertEquals(new Input.ReleaseConfirmed(7), next());
      assertEquals(List.of(7), second.released());
    }
    assertTrue(inputs.isEmpty());
  }

  @Test
  void aBusyPortIsTold() throws Exception {
    try (TriggerPort first = SerialTriggerPort.open(near.toString(), profile.line())) {
      assertEquals(0, first.read(new byte[10]));
      assertTrue(errorOf(near.toString()).contains("is busy; close the other program"));
    }
    SerialTriggerPort.open(near.toString(), profile.line()).close();
  }

  @Test
  void whatIsNoPortIsToldInOneLine() throws Exception {
    String ordinary = Files.createFile(folder.resolve("notes.txt")).toString();
    String missing = folder.resolve("missing").toString();
    assertEquals(
        "port \"" + folder + "\" is a folder; give the port inside it", errorOf(folder.toString()));
    assertEquals(
        "port \"" + ordinary + "\" is an ordinary file, not a serial port", errorOf(ordinary));
    assertEquals(
        "no such port \"" + missing + "\"; plug the adapter in, or list the ports there are",
        errorOf(missing));
    assertEquals(
        "no such port \"ttyNone\"; plug the adapter in, or list the ports there are",
        errorOf("ttyNone"));
    assertEquals(
        "no such port \"\"; plug the adapter in, or list the ports there are", errorOf(""));
    assertEquals("port \"/dev/null\" is not a serial port", errorOf("/dev/null"));
  }

  private String errorOf(String port) {
    return assertThrows(IOException.class, () -> SerialTriggerPort.open(port, profile.line()))
        .getMessage();
  }

  @Test
  void aPortThatTakesNoBytesIsAnErrorAndDoesNotHoldUsForEver() throws Exception {
    // Nobody reads the far end: the system's buffers fill after some ten thousand bytes.
    TriggerPort port = SerialTriggerPort.open(near.toString(), profile.line());
    byte[] much = new byte[50_000];
    String message = assertThrows(IOException.class, () -> port.write(much)).getMessage();
    // 12 bits a byte at 115200 baud, and two seconds.
    assertTrue(message.endsWith("did not take 50000 bytes in 7208 ms"), message);
    port.close();
  }

  @Test
  void theNativeLibraryLeavesNothingThatOthersCanWrite() throws Exception {
    String before = System.getProperty("java.io.tmpdir");
    assertTrue(SerialPorts.list().stream().noneMatch(port -> port.path().isBlank()));
    assertEquals(before, System.getProperty("java.io.tmpdir"));
    try (Stream<Path> left = Files.list(Path.of(before))) {
      assertEquals(
          List.of(),
          left.map(path -> path.getFileName().toString())
              .filter(name -> name.startsWith(SerialLibrary.FOLDER_PREFIX))
              .toList());
    }
  }
}

package org.scenespan.trigger;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.time.Duration;
import java.time.InstantSource;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.scenespan.light.Aperture;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;
import org.scenespan.session.Input;

/** Triggers at the end of a network, with a real server on the loopback address. */
@Timeout(60)
class NetworkPortTest {
  private static final Order.Fire FIRE =
      new Order.Fire(7, new Exposure(Shutter.ofThird(-21), Aperture.ofThird(18), Iso.ofThird(0)));

  private final Profile profile = new Profiles(Optional.empty()).load("reference-trigger");
  private final BlockingQueue<Input> inputs = new LinkedBlockingQueue<>();

  private Input next() throws InterruptedException {
    Input input = inputs.poll(30, TimeUnit.SECONDS);
    assertTrue(input != null, "no input came");
    return input;
  }

  @ParameterizedTest
  @CsvSource({"tcp://, PLAIN", "rfc2217://, RFC2217"})
  void greetsFiresIsHungUpAndComesBack(String scheme, TelnetPeer.Manner manner) throws Exception {
    try (TelnetPeer peer = new TelnetPeer(manner);
        TriggerEdge edge =
            TriggerEdge.open(
                profile,
                PortOpener.of(peer.address(scheme), profile),
                InstantSource.system(),
                inputs::add,
                Duration.ofMillis(20))) {
      edge.perform(new Order.Greet());
      assertEquals(new Input.TriggerGreeted(SmallDevice.IDENTITY), next());
      edge.perform(FIRE);
      assertEquals(new Input.ReleaseConfirmed(7), next());
      assertEquals(List.of(7), peer.device().released());
      peer.hangUp();
      assertEquals(new Input.TriggerLost("the port is gone"), next());
      assertEquals(new Input.TriggerGreeted(SmallDevice.IDENTITY), next());
    }
  }

  @Test
  void theFarSerialPortIsSet() throws Exception {
    try (TelnetPeer peer = new TelnetPeer(TelnetPeer.Manner.RFC2217)) {
      TriggerPort port = PortOpener.of(peer.address("rfc2217://"), profile).open();
      port.close();
      peer.awaitHangUp();
      // 115200 is 0x1c200; 8 data bits, no parity, 1 stop bit; RFC 2217's codes. Flow control: 1.
      assertEquals(
          List.of("1=0001c200", "2=08", "3=01", "4=01", "5=01"),
          peer.commands().stream().filter(command -> command.contains("=")).toList());
      // It wanted a terminal's type (24) of us and offered an echo (1): no, and no.
      assertEquals(
          List.of(
              "verb 251 44", "verb 251 0", "verb 253 0", "verb 253 3", "verb 252 24", "verb 254 1"),
          peer.commands().stream().filter(command -> !command.contains("=")).toList());
    }
  }

  @Test
  void everyByteComesThroughBothWays() throws Exception {
    for (TelnetPeer.Manner manner : List.of(TelnetPeer.Manner.PLAIN, TelnetPeer.Manner.RFC2217)) {
      String scheme = manner == TelnetPeer.Manner.PLAIN ? "tcp://" : "rfc2217://";
      try (TelnetPeer peer = new TelnetPeer(manner);
          TriggerPort port = PortOpener.of(peer.address(scheme), profile).open()) {
        byte[] all = new byte[256];
        for (int i = 0; i < all.length; i++) {
          all[i] = (byte) i;
        }
        port.write(all);
        // It says 255 back, and what its device makes of the line end within.
        assertArrayEquals(new byte[] {(byte) 255}, read(port, 1));
        assertArrayEquals(all, peer.data());
        port.write(new byte[] {(byte) 255, (byte) 255, '\n'});
        assertArrayEquals(new byte[] {(byte) 255, (byte) 255}, read(port, 2));
      }
    }
  }

  private static byte[] read(TriggerPort port, int count) {
    ByteArrayOutputStream all = new ByteArrayOutputStream();
    byte[] one = new byte[1];
    while (all.size() < count) {
      int got = port.read(one);
      assertTrue(got >= 0, "the port is gone");
      all.write(one, 0, got);
    }
    return all.toByteArray();
  }

  @Test
  void contactsOnTheFarModemLinesAreSwitchedAndDropped() throws Exception {
    Profile contacts = new Profiles(Optional.empty()).load("modem-lines");
    try (TelnetPeer peer = new TelnetPeer(TelnetPeer.Manner.RFC2217)) {
      try (TriggerPort port = PortOpener.of(peer.address("rfc2217://"), contacts).open()) {
        port.set(ModemLine.DTR, true);
        port.set(ModemLine.RTS, true);
      }
      peer.awaitHangUp();
      List<String> switched =
          peer.commands().stream().filter(command -> command.matches("5=(0[89]|0b|0c)")).toList();
      // RTS off, DTR off (RFC 2217: 12 and 9); on (8 and 11); and off again at the end.
      assertEquals(List.of("5=0c", "5=09", "5=08", "5=0b", "5=0c", "5=09"), switched);
    }
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "UNWILLING | does not let its serial port be set (RFC 2217); use tcp:// for plain bytes",
        "MUTE | does not let its serial port be set (RFC 2217); use tcp:// for plain bytes",
        "PLAIN | does not let its serial port be set (RFC 2217); use tcp:// for plain bytes",
        "STUBBORN | runs at 115201 baud, not 115200",
      })
  void aFarEndThatIsNotToBeSetIsTold(TelnetPeer.Manner manner, String message) throws Exception {
    try (TelnetPeer peer = new TelnetPeer(manner)) {
      String address = peer.address("rfc2217://");
      assertEquals(
          "port \"" + address + "\" " + message,
          assertThrows(IOException.class, () -> PortOpener.of(address, profile).open())
              .getMessage());
    }
  }

  @Test
  void aPeerThatTakesNoBytesDoesNotHoldUsForEver() throws Exception {
    try (TelnetPeer peer = new TelnetPeer(TelnetPeer.Manner.MUTE);
        TriggerPort port = PortOpener.of(peer.address("tcp://"), profile).open()) {
      byte[] much = new byte[64 * 1024 * 1024];
      String message = assertThrows(IOException.class, () -> port.write(much)).getMessage();
      assertTrue(message.endsWith("did not take 67108864 bytes in 3000 ms"), message);
      assertEquals(0, port.read(new byte[10]));
    }
  }

  @Test
  void nobodyThereIsToldInOneLine() throws Exception {
    int free;
    try (ServerSocket server = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
      free = server.getLocalPort();
    }
    for (String scheme : List.of("tcp://", "rfc2217://")) {
      String address = scheme + "127.0.0.1:" + free;
      String message =
          assertThrows(IOException.class, () -> PortOpener.of(address, profile).open())
              .getMessage();
      assertTrue(message.startsWith("port \"" + address + "\" cannot be connected: "), message);
      assertTrue(message.endsWith("and that nobody else is connected"), message);
      assertEquals(1, message.lines().count());
    }
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "tcp://",
        "tcp://host",
        "tcp://host:",
        "tcp://:9000",
        "tcp://host:0",
        "tcp://host:65536",
        "tcp://host:12x",
        "rfc2217://a b:23",
        "rfc2217://host:23/path"
      })
  void aWrongAddressIsTold(String address) {
    String message =
        assertThrows(IllegalArgumentException.class, () -> PortOpener.of(address, profile))
            .getMessage();
    assertTrue(
        message.matches("port \".*\" must be (tcp|rfc2217)://HOST:PORT, with a port of 1 to 65535"),
        message);
  }

  @Test
  void plainBytesHaveNoModemLines() {
    Profile contacts = new Profiles(Optional.empty()).load("modem-lines");
    assertTrue(
        assertThrows(
                IllegalArgumentException.class, () -> PortOpener.of("tcp://127.0.0.1:9", contacts))
            .getMessage()
            .contains("has no modem lines; use rfc2217:// or a serial port"));
  }

  /** Whatever comes, the reader neither fails nor grows. */
  @Test
  void anyBytesAreTaken() {
    Random chance = new Random(1);
    Telnet telnet = new Telnet();
    byte[] noise = new byte[1000];
    for (int round = 0; round < 2000; round++) {
      chance.nextBytes(noise);
      for (int i = 0; i < noise.length; i++) {
        if (chance.nextInt(3) == 0) {
          noise[i] = (byte) (240 + chance.nextInt(16));
        }
      }
      telnet.receive(noise, noise.length);
      assertTrue(telnet.takeData().length <= noise.length);
      assertTrue(telnet.takeReplies().length <= noise.length);
      for (Telnet.Answer answer : telnet.takeAnswers()) {
        assertTrue(answer.value().length <= 300);
      }
    }
  }
}

package org.scenespan.trigger;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.util.List;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;

/**
 * A small server on the loopback address with the reference trigger's device behind it: plain, or
 * as the access server of RFC 2217. Written from the RFC and not with {@link Telnet}, so that the
 * two check each other.
 */
final class TelnetPeer implements AutoCloseable {
  /** How it behaves. */
  enum Manner {
    PLAIN,
    RFC2217,
    /** Telnet that wants nothing of serial ports. */
    UNWILLING,
    /** Takes connections and neither reads nor writes. */
    MUTE,
    /** Sets another speed than was asked for. */
    STUBBORN
  }

  private final ServerSocket server;
  private final Manner manner;
  private final SmallDevice device = new SmallDevice();
  private final List<String> commands = new CopyOnWriteArrayList<>();
  private final BlockingQueue<Socket> connections = new LinkedBlockingQueue<>();
  private final ByteArrayOutputStream data = new ByteArrayOutputStream();
  private final CountDownLatch hungUp = new CountDownLatch(1);
  private final Thread thread = new Thread(this::serve, "telnet-peer");

  TelnetPeer(Manner manner) throws IOException {
    this.manner = manner;
    server = new ServerSocket(0, 5, InetAddress.getLoopbackAddress());
    thread.start();
  }

  String address(String scheme) {
    return scheme + "127.0.0.1:" + server.getLocalPort();
  }

  /** What was commanded about the serial port: {@code 1=0001c200}. */
  List<String> commands() {
    return commands;
  }

  SmallDevice device() {
    return device;
  }

  /** What came as data, unescaped. */
  synchronized byte[] data() {
    return data.toByteArray();
  }

  /** Waits until somebody has hung up and everything before that was heard. */
  void awaitHangUp() throws InterruptedException {
    assertTrue(hungUp.await(30, TimeUnit.SECONDS), "nobody hung up");
  }

  /** Hangs up on whoever is connected. */
  void hangUp() throws IOException, InterruptedException {
    connections.take().close();
  }

  private void serve() {
    while (true) {
      try (Socket socket = server.accept()) {
        connections.add(socket);
        if (manner == Manner.MUTE) {
          // Holds the connection until the server ends.
          server.accept().close();
        } else {
          converse(socket.getInputStream(), socket.getOutputStream());
          hungUp.countDown();
        }
      } catch (IOException ended) {
        if (server.isClosed()) {
          return;
        }
      }
    }
  }

  private void converse(InputStream in, OutputStream out) throws IOException {
    for (int value = in.read(); value >= 0; value = in.read()) {
      if (manner == Manner.PLAIN || value != 255) {
        heard(value, out);
        continue;
      }
      int verb = in.read();
      if (verb == 255) {
        heard(255, out);
      } else if (verb == 250) {
        subnegotiation(in, out);
      } else if (verb >= 251) {
        negotiate(verb, in.read(), out);
      }
    }
  }

  /** WILL com port is answered DO; DO binary is answered WILL; a question of its own besides. */
  private void negotiate(int verb, int option, OutputStream out) throws IOException {
    commands.add("verb " + verb + " " + option);
    if (option == 44 && verb == 251) {
      send(out, 255, manner == Manner.UNWILLING ? 254 : 253, 44);
      send(out, 255, 253, 24, 255, 251, 1);
    } else if (option == 0) {
      send(out, 255, verb == 251 ? 253 : 251, 0);
    }
  }

  private void subnegotiation(InputStream in, OutputStream out) throws IOException {
    ByteArrayOutputStream body = new ByteArrayOutputStream();
    while (true) {
      int value = in.read();
      if (value == 255) {
        value = in.read();
        if (value == 240) {
          break;
        }
      }
      body.write(value);
    }
    byte[] bytes = body.toByteArray();
    StringBuilder hex = new StringBuilder();
    for (int i = 2; i < bytes.length; i++) {
      hex.append(String.format("%02x", bytes[i]));
    }
    commands.add(bytes[1] + "=" + hex);
    bytes[1] += 100;
    if (manner == Manner.STUBBORN && bytes[1] == 101) {
      bytes[5] ^= 1;
    }
    ByteArrayOutputStream answer = new ByteArrayOutputStream();
    answer.writeBytes(new byte[] {(byte) 255, (byte) 250});
    for (byte value : bytes) {
      answer.write(value);
      if (value == -1) {
        answer.write(value);
      }
    }
    answer.writeBytes(new byte[] {(byte) 255, (byte) 240});
    // And a notice about the line's state (106, RFC 2217) that nobody asked for.
    answer.writeBytes(new byte[] {(byte) 255, (byte) 250, 44, 106, 96, (byte) 255, (byte) 240});
    out.write(answer.toByteArray());
  }

  private void heard(int value, OutputStream out) throws IOException {
    synchronized (this) {
      data.write(value);
    }
    if (value == 255) {
      // Says it back, escaped as it must be.
      send(out, manner == Manner.PLAIN ? new int[] {255} : new int[] {255, 255});
    } else {
      out.write(device.hear(new byte[] {(byte) value}).getBytes("US-ASCII"));
    }
  }

  private static void send(OutputStream out, int... values) throws IOException {
    byte[] bytes = new byte[values.length];
    for (int i = 0; i < values.length; i++) {
      bytes[i] = (byte) values[i];
    }
    out.write(bytes);
  }

  @Override
  public void close() throws IOException {
    server.close();
    for (Socket socket : connections) {
      socket.close();
    }
    try {
      thread.join(10_000);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}

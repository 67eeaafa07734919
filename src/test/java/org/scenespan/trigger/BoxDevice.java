package org.scenespan.trigger;

import static java.nio.charset.StandardCharsets.ISO_8859_1;

import java.time.Duration;
import java.time.Instant;
import java.util.Arrays;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;

/** The least of each box that the generic profiles are written for, in real time. */
final class BoxDevice implements AutoCloseable {
  private final Profile profile;
  private final Framing framing;
  private final Consumer<byte[]> out;
  private final StringBuilder pending = new StringBuilder();
  private final List<Integer> released = new CopyOnWriteArrayList<>();
  private final List<Instant> opened = new CopyOnWriteArrayList<>();
  private final List<Instant> closed = new CopyOnWriteArrayList<>();
  private final Instant start = Instant.now();
  private final ScheduledExecutorService timer = Executors.newSingleThreadScheduledExecutor();

  BoxDevice(Profile profile, Consumer<byte[]> out) {
    this.profile = profile;
    this.framing = new Framing(profile.line());
    this.out = out;
  }

  List<Integer> released() {
    return released;
  }

  /** When it heard each OPEN, in their order. */
  List<Instant> opened() {
    return opened;
  }

  /** When it heard each CLOSE, in their order. */
  List<Instant> closed() {
    return closed;
  }

  void hear(byte[] bytes) {
    for (byte value : bytes) {
      pending.append((char) (value & 0xff));
      if (profile.line().form() == Profile.Form.HEX) {
        hearBytes();
      } else if (value == '\n') {
        String line = pending.substring(0, pending.length() - 1);
        pending.setLength(0);
        answer(framing.decode(line).orElse("garbage"));
      }
    }
  }

  /** A greeting has 4 bytes and a release 10, their checksums included. */
  private void hearBytes() {
    int length = pending.length() < 2 || pending.charAt(1) == 1 ? 4 : 10;
    if (pending.length() < length) {
      return;
    }
    byte[] body = Arrays.copyOf(pending.toString().getBytes(ISO_8859_1), length - 2);
    pending.setLength(0);
    if (length == 4) {
      say("A5 81 43 42 01 00");
    } else {
      int shot = (body[2] & 0xff) | (body[3] & 0xff) << 8;
      int millis = (body[4] & 0xff) | (body[5] & 0xff) << 8;
      released.add(shot);
      String tail = String.format("%02X %02X %02X %02X", body[2], body[3], body[4], body[5]);
      later(millis, "A5 82 " + tail);
    }
  }

  private void answer(String command) {
    String[] words = command.split(" ");
    switch (words[0]) {
      case "ID?" -> {
        say("BATTERY 3.71 V");
        say("ID BOX");
      }
      case "HALF" -> say("HALF OK");
      case "PING" -> say("PONG");
      case "FIRE" -> {
        released.add(Integer.valueOf(words[1]));
        say("FIRED " + words[1]);
      }
      case "HOLD" -> {
        released.add(Integer.valueOf(words[2]));
        later(Long.parseLong(words[1]), "HELD " + words[2] + " " + words[1]);
      }
      case "OPEN" -> {
        released.add(Integer.valueOf(words[1]));
        say("OPENED " + words[1] + " " + stamp(opened));
      }
      case "CLOSE" -> say("CLOSED " + words[1] + " " + stamp(closed));
      default -> say("ERR WHAT");
    }
  }

  private long stamp(List<Instant> moments) {
    Instant now = Instant.now();
    moments.add(now);
    return Duration.between(start, now).toMillis();
  }

  private void later(long millis, String message) {
    timer.schedule(() -> say(message), millis, TimeUnit.MILLISECONDS);
  }

  private void say(String message) {
    out.accept(framing.encode(message));
  }

  @Override
  public void close() {
    timer.shutdownNow();
  }
}

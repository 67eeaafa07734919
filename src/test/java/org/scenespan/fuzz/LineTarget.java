package org.scenespan.fuzz;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.scenespan.light.Aperture;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;
import org.scenespan.session.Input;
import org.scenespan.trigger.Order;
import org.scenespan.trigger.Profile;
import org.scenespan.trigger.TriggerDesk;

/**
 * What a device says, in pieces, while orders are under way; each order has one end. The first byte
 * chooses which of the shipped profiles is spoken.
 */
final class LineTarget implements Target {
  private static final Instant START = Instant.parse("2026-05-04T03:00:00Z");
  private static final List<Order> ORDERS =
      List.of(
          new Order.Greet(),
          new Order.ReadMeter(),
          new Order.Fire(
              7, new Exposure(Shutter.parse("1/125"), Aperture.parse("f/8"), Iso.parse("100"))));

  private final List<Profile> profiles =
      ShippedProfiles.names().stream().map(ShippedProfiles::profile).toList();

  @Override
  public List<byte[]> seeds() {
    List<byte[]> seeds = new ArrayList<>();
    String greeting = "SCENESPAN,REFERENCE TRIGGER,0,1.0\n0,\"No error\"\n";
    String shot = "0,\"No error\"\n0.0078125\n0,\"No error\"\n100\n0,\"No error\"\n8\n";
    byte reference = (byte) ShippedProfiles.names().indexOf("reference-trigger");
    for (String said :
        List.of(
            greeting + "12.03\n" + shot + "0,\"No error\"\n7\n",
            greeting + "9.91E37\n-213,\"Init ignored\"\n")) {
      seeds.add(withFirst(reference, said.getBytes(StandardCharsets.US_ASCII)));
    }
    for (int i = 0; i < profiles.size(); i++) {
      byte[] replies = ShippedProfiles.replies(profiles.get(i).name());
      seeds.add(withFirst((byte) i, replies));
    }
    return seeds;
  }

  private static byte[] withFirst(byte first, byte[] rest) {
    byte[] all = new byte[rest.length + 1];
    all[0] = first;
    System.arraycopy(rest, 0, all, 1, rest.length);
    return all;
  }

  @Override
  public List<String> words() {
    return List.of("\n", "\r", "0,\"No error\"", "-250,\"x\"\n", "7\n", "\0", "\u00ff", "1e400\n");
  }

  @Override
  public Shape shape() {
    return new LinesShape();
  }

  @Override
  public void feed(byte[] input) throws IOException {
    if (input.length == 0) {
      return;
    }
    Profile profile = profiles.get(Math.floorMod(input[0], profiles.size()));
    List<Input> inputs = new ArrayList<>();
    TriggerDesk desk = new TriggerDesk(profile, Duration.ofSeconds(1), inputs::add);
    ORDERS.forEach(desk::perform);
    Instant now = START;
    for (int from = 1; from < input.length; from += 13) {
      desk.tick(now);
      desk.takeOutput();
      int to = Math.min(input.length, from + 13);
      desk.receive(Arrays.copyOfRange(input, from, to), now);
      now = now.plusMillis(input[from] & 0xff);
    }
    for (int i = 0; i < 100; i++) {
      now = now.plusSeconds(1);
      desk.tick(now);
      desk.takeOutput();
      if (desk.wantsPort(now)) {
        desk.notOpened(now);
      }
    }
    long ends =
        inputs.stream()
            .filter(one -> !(one instanceof Input.TriggerLost))
            .filter(one -> !(one instanceof Input.TriggerNoticed))
            .count();
    if (ends > ORDERS.size()) {
      throw new IOException("an order has more than one end: " + inputs);
    }
  }
}

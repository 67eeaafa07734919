package org.scenespan.fuzz;

import com.google.common.jimfs.Configuration;
import com.google.common.jimfs.Jimfs;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.scenespan.trigger.Order;
import org.scenespan.trigger.Profile;
import org.scenespan.trigger.Profiles;
import org.scenespan.trigger.TriggerDesk;

/** A user's own device profile; one that is accepted is talked by, too. */
final class ProfileTarget implements Target {
  private static final Instant START = Instant.parse("2026-05-04T03:00:00Z");

  private final Path directory;

  ProfileTarget() throws IOException {
    directory = Jimfs.newFileSystem(Configuration.unix()).getPath("/profiles");
    Files.createDirectory(directory);
  }

  @Override
  public List<byte[]> seeds() {
    return ShippedProfiles.names().stream().map(ShippedProfiles::text).toList();
  }

  @Override
  public List<String> words() {
    return List.of(
        "[",
        "{\"a\":",
        "(?<ev>",
        "\\\\k<ev>",
        "(a+)+",
        "[^",
        "\"retries\": 10,",
        "{shot}",
        "{",
        "\\u0000",
        "\"kind\": \"line\"",
        "1e308");
  }

  @Override
  public Shape shape() {
    return new JsonShape(false);
  }

  @Override
  public void feed(byte[] input) throws IOException {
    Files.write(directory.resolve("own.json"), input);
    Profile profile;
    try {
      profile = new Profiles(Optional.of(directory)).load("own");
    } catch (IllegalArgumentException told) {
      if (told.getMessage().lines().count() != 1) {
        throw new IOException("not one line: " + told.getMessage());
      }
      return;
    }
    TriggerDesk desk = new TriggerDesk(profile, Duration.ofSeconds(1), any -> {});
    desk.perform(new Order.Greet());
    desk.tick(START);
    desk.receive("SCENESPAN,REFERENCE TRIGGER,0,1.0\n".getBytes(), START);
    desk.receive((("a".repeat(60) + "!\n")).getBytes(), START.plusMillis(1));
    desk.tick(START.plusSeconds(1000));
  }
}

package org.scenespan.fuzz;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HexFormat;
import java.util.List;
import java.util.Optional;
import org.scenespan.trigger.Profile;
import org.scenespan.trigger.Profiles;

/** The shipped profiles and what their devices say in the transcripts. */
final class ShippedProfiles {
  private ShippedProfiles() {}

  static List<String> names() {
    return new Profiles(Optional.empty()).names();
  }

  static Profile profile(String name) {
    return new Profiles(Optional.empty()).load(name);
  }

  static byte[] text(String name) {
    return bytes(Path.of("device-profiles", name + ".json"));
  }

  /** All that the device says in its transcript, as it goes over the line. */
  static byte[] replies(String name) {
    boolean hex = profile(name).line().form() == Profile.Form.HEX;
    String transcript =
        new String(
            bytes(Path.of("src", "test", "resources", "dialogues", name + ".txt")),
            StandardCharsets.ISO_8859_1);
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    for (String line : transcript.lines().filter(one -> one.startsWith("< ")).toList()) {
      String said = line.substring(2);
      out.writeBytes(
          hex
              ? HexFormat.of().parseHex(said.replaceAll("[^0-9A-Fa-f]", ""))
              : (said + "\n").getBytes(StandardCharsets.ISO_8859_1));
    }
    return out.toByteArray();
  }

  private static byte[] bytes(Path file) {
    try {
      return Files.readAllBytes(file);
    } catch (IOException e) {
      throw new IllegalStateException(e);
    }
  }
}

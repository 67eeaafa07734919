package org.scenespan.rehearsal;

import java.time.Instant;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * The device side of the profile {@code release-only}: a box with one contact. It answers when it
 * has pressed, and knows nothing of what the camera then does.
 */
final class ReleaseBox {
  static final String IDENTITY = "SCENESPAN,RELEASE BOX,0,1.0";

  private static final Pattern FIRE = Pattern.compile("FIRE ([1-9][0-9]{0,8})");

  private final SimulatedCamera camera;

  ReleaseBox(SimulatedCamera camera) {
    this.camera = camera;
  }

  /** Obeys a line and gives the reply; none to an empty one. */
  Optional<String> obey(String line, Instant now) {
    Matcher fire = FIRE.matcher(line);
    if (line.isEmpty()) {
      return Optional.empty();
    }
    if (line.equals("ID?")) {
      return Optional.of("ID " + IDENTITY);
    }
    if (line.equals("HALF")) {
      return Optional.of("HALF OK");
    }
    if (!fire.matches()) {
      return Optional.of("ERR no such command");
    }
    if (camera.isExposing()) {
      return Optional.of("ERR the camera is busy");
    }
    camera.release(Integer.parseInt(fire.group(1)), now);
    return Optional.of("FIRED " + fire.group(1));
  }
}

package org.scenespan.folder;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.scenespan.frame.CameraProfile;
import org.scenespan.frame.CodeTone;
import org.scenespan.frame.ColourSpace;
import org.scenespan.frame.FrameMetadata;

/**
 * By which tone the codes of a JPEG are taken: the camera's own where it was measured, or that of
 * its colour space. One is kept, the last, since the next picture mostly has the same. Safe for
 * several threads.
 */
final class JpegTones {
  private final Optional<CameraProfile> camera;
  private volatile Optional<CodeTone> last = Optional.empty();

  /**
   * @param camera whose response is taken for its own pictures
   */
  JpegTones(Optional<CameraProfile> camera) {
    this.camera = camera;
  }

  /** The camera's own response for the camera's own pictures; others keep their colour space's. */
  CodeTone of(ColourSpace space, FrameMetadata metadata) {
    Optional<CameraProfile> own = camera.filter(profile -> isBy(profile, metadata));
    Optional<CodeTone> kept = last;
    if (kept.isPresent()
        && kept.get().space().equals(space)
        && kept.get().measured() == own.isPresent()) {
      return kept.get();
    }
    CodeTone tone =
        own.map(profile -> CodeTone.of(space, profile)).orElseGet(() -> CodeTone.of(space));
    last = Optional.of(tone);
    return tone;
  }

  private static boolean isBy(CameraProfile profile, FrameMetadata metadata) {
    return profile.hasResponse() && metadata.camera().map(profile.camera()::equals).orElse(true);
  }

  /** What is not certain about a picture's colours and tone. */
  List<String> notes(Colours colours, CodeTone tone, FrameMetadata metadata) {
    if (camera.isEmpty() || !camera.get().hasResponse() || tone.measured()) {
      return colours.notes();
    }
    List<String> notes = new ArrayList<>(colours.notes());
    notes.add(
        "It is by "
            + metadata.camera().orElse("another camera")
            + ", the camera profile of "
            + camera.get().camera()
            + ": its response is not taken.");
    return notes;
  }
}

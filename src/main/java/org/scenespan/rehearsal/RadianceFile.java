package org.scenespan.rehearsal;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import org.scenespan.frame.Radiance;
import org.scenespan.frame.RadianceFormat;

/** Reads a scene from a Radiance picture's file. */
final class RadianceFile {
  /**
   * Four bytes a pixel and the header; runs make a file smaller, not bigger, but for their counts.
   */
  private static final long MOST_BYTES = 5L * Radiance.MOST_PIXELS;

  private RadianceFile() {}

  /**
   * @throws IllegalArgumentException in one line, if the file cannot be read or is no scene
   */
  static Radiance read(Path file) {
    try {
      if (Files.size(file) > MOST_BYTES) {
        throw new IllegalArgumentException("it is bigger than " + (MOST_BYTES >> 20) + " MiB");
      }
      return RadianceFormat.read(Files.readAllBytes(file));
    } catch (NoSuchFileException e) {
      throw new IllegalArgumentException("there is no scene file " + file, e);
    } catch (IOException e) {
      throw new IllegalArgumentException(file + " cannot be read: " + e.getMessage(), e);
    } catch (IllegalArgumentException e) {
      throw new IllegalArgumentException(file + " is no scene: " + e.getMessage(), e);
    }
  }
}

package org.scenespan.control;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.Locale;
import java.util.Optional;
import org.scenespan.frame.CameraProfile;
import org.scenespan.wire.CameraProfileJson;

/** The user's directory of camera profiles, one JSON file each. */
public final class CameraProfiles {
  private static final String SUFFIX = ".json";

  /** A profile has some 20 KB. */
  private static final int MAX_PROFILE_BYTES = 1 << 18;

  private final Path directory;

  /**
   * @param directory need not exist
   */
  public CameraProfiles(Path directory) {
    this.directory = directory;
  }

  /**
   * Loads a profile by its name, or from a file if the text ends in {@code .json}.
   *
   * @throws IllegalArgumentException in one line, if there is none or it is wrong
   */
  public CameraProfile load(String nameOrFile) {
    Path file =
        nameOrFile.endsWith(SUFFIX)
            ? Path.of(nameOrFile)
            : directory.resolve(nameOrFile.replaceAll("[/\\\\]", "") + SUFFIX);
    return read(file);
  }

  /** The file in which a camera's profile is kept. */
  public Path fileOf(String camera) {
    String plain = camera.toLowerCase(Locale.ROOT).replaceAll("[^a-z0-9]+", "-");
    String trimmed = plain.replaceAll("^-|-$", "");
    return directory.resolve((trimmed.isEmpty() ? "camera" : trimmed) + SUFFIX);
  }

  static CameraProfile read(Path file) {
    try (InputStream in = Files.newInputStream(file)) {
      byte[] bytes = in.readNBytes(MAX_PROFILE_BYTES + 1);
      if (bytes.length > MAX_PROFILE_BYTES) {
        throw new IllegalArgumentException("is bigger than any profile");
      }
      return CameraProfileJson.read(new String(bytes, StandardCharsets.UTF_8));
    } catch (NoSuchFileException e) {
      throw new IllegalArgumentException("there is no camera profile \"" + file + "\"", e);
    } catch (IOException e) {
      throw new IllegalArgumentException(
          "camera profile \"" + file + "\" cannot be read: " + e.getMessage(), e);
    } catch (IllegalArgumentException e) {
      throw new IllegalArgumentException("camera profile \"" + file + "\": " + e.getMessage(), e);
    }
  }

  /**
   * An earlier profile in a file, if there is one.
   *
   * @throws IOException if the file is something else
   */
  public static Optional<CameraProfile> kept(Path file) throws IOException {
    if (!Files.exists(file)) {
      return Optional.empty();
    }
    try {
      return Optional.of(read(file));
    } catch (IllegalArgumentException foreign) {
      throw new IOException(
          "\"" + file + "\" is in the way: it is no camera profile; name another file with --out",
          foreign);
    }
  }

  /**
   * Keeps a profile; an older one in the same file is replaced.
   *
   * @throws IOException if it cannot be written, or the file is something else
   */
  public static void save(CameraProfile profile, Path file) throws IOException {
    kept(file);
    Path absolute = file.toAbsolutePath();
    Files.createDirectories(absolute.getParent());
    Path part = absolute.resolveSibling(absolute.getFileName() + ".part");
    Files.writeString(part, CameraProfileJson.write(profile));
    Files.move(part, absolute, StandardCopyOption.REPLACE_EXISTING);
  }
}

package org.scenespan.folder;

import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.file.AtomicMoveNotSupportedException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import javax.imageio.ImageIO;
import javax.imageio.stream.MemoryCacheImageOutputStream;
import org.scenespan.frame.FrameReading;

/**
 * Where previews and clip masks are kept: a directory of the session, never the hot folder.
 *
 * <p>A frame {@code IMG_1.JPG} has {@code preview-IMG_1.JPG.jpg} and {@code mask-IMG_1.JPG.png}.
 */
public final class PreviewStore {
  /** Longer names are cut; a file system takes 255 bytes. */
  private static final int MAX_NAME = 200;

  private final Path directory;

  public PreviewStore(Path directory) {
    this.directory = directory;
  }

  /** The preview's file name for a frame's. */
  public static String previewName(String frame) {
    return "preview-" + safe(frame) + ".jpg";
  }

  /** The clip mask's file name for a frame's. */
  public static String maskName(String frame) {
    return "mask-" + safe(frame) + ".png";
  }

  /** ASCII letters, digits, dot and hyphen; any other character as its code between underscores. */
  private static String safe(String name) {
    StringBuilder safe = new StringBuilder();
    for (int i = 0; i < name.length() && safe.length() < MAX_NAME; i++) {
      char c = name.charAt(i);
      boolean plain =
          c >= 'a' && c <= 'z'
              || c >= 'A' && c <= 'Z'
              || c >= '0' && c <= '9'
              || c == '-'
              || c == '.'
              || c == '_';
      safe.append(plain ? String.valueOf(c) : "_" + Integer.toHexString(c) + "_");
    }
    return safe.toString();
  }

  FrameReading.Pictures save(String frame, Preview preview) throws IOException {
    Files.createDirectories(directory);
    FrameReading.Pictures names = new FrameReading.Pictures(previewName(frame), maskName(frame));
    Workers.both(
        () -> write(names.preview(), encoded(preview.picture(), "jpeg")),
        () -> write(names.mask(), encoded(preview.mask(), "png")));
    return names;
  }

  private static byte[] encoded(BufferedImage image, String format) throws IOException {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    try (MemoryCacheImageOutputStream output = new MemoryCacheImageOutputStream(bytes)) {
      if (!ImageIO.write(image, format, output)) {
        throw new IOException("no writer for " + format);
      }
    }
    return bytes.toByteArray();
  }

  /** Written beside and renamed, so that a reader of the page never gets half a picture. */
  private void write(String name, byte[] bytes) throws IOException {
    Path half = directory.resolve(name + ".part");
    Files.write(half, bytes);
    Path whole = directory.resolve(name);
    try {
      Files.move(half, whole, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
    } catch (AtomicMoveNotSupportedException e) {
      Files.move(half, whole, StandardCopyOption.REPLACE_EXISTING);
    }
  }
}

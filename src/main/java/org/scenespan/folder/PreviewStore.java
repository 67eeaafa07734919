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

  /** What is left alone of a disk that fills up: records go before pictures, bytes. */
  static final long KEPT_FOR_RECORDS = 1 << 20;

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
    byte[][] coded = coded(preview);
    requireRoom((long) coded[0].length + coded[1].length);
    write(names.preview(), coded[0]);
    write(names.mask(), coded[1]);
    return names;
  }

  /** The picture and the mask as they are written. */
  static byte[][] coded(Preview preview) throws IOException {
    byte[][] coded = new byte[2][];
    Workers.both(
        () -> coded[0] = encoded(preview.picture(), "jpeg"),
        () -> coded[1] = encoded(preview.mask(), "png"));
    return coded;
  }

  /** A journal on the same disk must not fail for a picture's sake. */
  private void requireRoom(long bytes) throws IOException {
    long room;
    try {
      room = Files.getFileStore(directory).getUsableSpace();
    } catch (IOException untold) {
      return; // Not every system tells; then the writing does.
    }
    if (room - bytes < KEPT_FOR_RECORDS) {
      throw new IOException("the disk is almost full; what is left is kept for the records");
    }
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
    try {
      Files.write(half, bytes);
      rename(half, directory.resolve(name));
    } catch (IOException full) {
      // Half a picture would take the room that the records need.
      Files.deleteIfExists(half);
      throw full;
    }
  }

  private static void rename(Path half, Path whole) throws IOException {
    try {
      Files.move(half, whole, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
    } catch (AtomicMoveNotSupportedException e) {
      Files.move(half, whole, StandardCopyOption.REPLACE_EXISTING);
    }
  }
}

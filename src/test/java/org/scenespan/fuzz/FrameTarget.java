package org.scenespan.fuzz;

import com.google.common.jimfs.Configuration;
import com.google.common.jimfs.Jimfs;
import java.io.IOException;
import java.nio.file.FileSystem;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.scenespan.folder.FrameReader;
import org.scenespan.folder.PreviewStore;
import org.scenespan.folder.UnreadableFrame;

/**
 * Frames of one format: what the simulated camera writes or small pictures, and a hostile corpus.
 */
final class FrameTarget implements Target {
  private final FrameReader reader = new FrameReader();
  private final List<byte[]> seeds;
  private final Path file;
  private final PreviewStore previews;
  private final String extension;

  /**
   * @param extension of the frames: {@code jpg}, {@code dng}, {@code tif} or {@code png}
   */
  FrameTarget(String extension) throws IOException {
    FileSystem disk = Jimfs.newFileSystem(Configuration.unix());
    this.extension = extension;
    this.seeds = FrameSeeds.of(extension);
    this.file = disk.getPath("/frame." + extension);
    this.previews = new PreviewStore(disk.getPath("/previews"));
  }

  @Override
  public List<byte[]> seeds() {
    return seeds;
  }

  @Override
  public Shape shape() {
    return switch (extension) {
      case "jpg" -> new JpegShape();
      case "png" -> new PngShape();
      default -> new TiffShape();
    };
  }

  @Override
  public List<String> words() {
    return List.of(
        "\u00ff\u00d8",
        "\u00ff\u00c0",
        "\u00ff\u00c2",
        "\u00ff\u00da",
        "\u00ff\u00c4",
        "\u00ff\u00e1",
        "Exif\0\0",
        "II*\0",
        "MM\0*",
        "IHDR",
        "IDAT",
        "2026:05:04 03:00:00",
        "\0\0\0\u0001");
  }

  @Override
  public void feed(byte[] input) throws IOException {
    Files.write(file, input);
    try {
      if (input.length % 4 == 0) {
        reader.read(file, previews);
      } else {
        reader.read(file);
      }
    } catch (UnreadableFrame told) {
      if (told.getMessage().contains("more memory than there is")) {
        throw new IOException("memory is not bounded", told);
      }
      // An answer all the same, but one that a check should have given with a better reason.
      if (told.getMessage().startsWith("the file makes no sense")) {
        throw new IOException(told.getMessage(), told.getCause());
      }
      if (told.getMessage().lines().count() != 1) {
        throw new IOException("not one line: " + told.getMessage());
      }
    }
  }
}

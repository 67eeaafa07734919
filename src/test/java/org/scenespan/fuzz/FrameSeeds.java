package org.scenespan.fuzz;

import com.google.common.jimfs.Configuration;
import com.google.common.jimfs.Jimfs;
import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileSystem;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.Stream;
import javax.imageio.IIOImage;
import javax.imageio.ImageIO;
import javax.imageio.ImageWriteParam;
import javax.imageio.ImageWriter;
import javax.imageio.stream.MemoryCacheImageOutputStream;
import org.scenespan.light.Ev;
import org.scenespan.rehearsal.Faults;
import org.scenespan.rehearsal.RigSettings;
import org.scenespan.rehearsal.Scene;
import org.scenespan.rehearsal.SimulatedRig;

/** Small frames of each format to begin from. */
final class FrameSeeds {
  /** Bigger files of the corpus are slower and no better. */
  private static final long MOST_BYTES = 40_000;

  /** Of damaged files a few hundred; they are missing where the shared data is. */
  private static final Path CORPUS = Path.of("..", "shared", "data", "hostile");

  private FrameSeeds() {}

  static List<byte[]> of(String extension) throws IOException {
    List<byte[]> seeds = new ArrayList<>();
    switch (extension) {
      case "jpg" -> {
        seeds.addAll(camera(extension));
        seeds.addAll(camera(extension));
        seeds.addAll(corpus("jpe?g|bin", "jpeg"));
      }
      case "dng" -> seeds.addAll(camera(extension));
      case "png" -> {
        seeds.add(written("png", BufferedImage.TYPE_3BYTE_BGR, null));
        seeds.add(written("png", BufferedImage.TYPE_USHORT_GRAY, null));
        seeds.add(written("png", BufferedImage.TYPE_BYTE_INDEXED, null));
        seeds.addAll(corpus("png", "png"));
      }
      default -> {
        for (String compression : List.of("LZW", "ZLib", "PackBits", "JPEG", "Deflate")) {
          seeds.add(written("tiff", BufferedImage.TYPE_3BYTE_BGR, compression));
        }
        seeds.add(written("tiff", BufferedImage.TYPE_USHORT_GRAY, null));
        seeds.addAll(corpus("tiff?", "tiff"));
      }
    }
    return seeds;
  }

  /** Two frames of the simulated camera, of 24 × 16 pixels, with their Exif. */
  private static List<byte[]> camera(String extension) throws IOException {
    try (FileSystem disk = Jimfs.newFileSystem(Configuration.unix())) {
      Path folder = Files.createDirectory(disk.getPath("/frames"));
      StringBuilder hdr = new StringBuilder("#?RADIANCE\nFORMAT=32-bit_rle_rgbe\n\n-Y 16 +X 24\n");
      for (int i = 0; i < 16 * 24; i++) {
        char mantissa = (char) (128 + i % 64);
        hdr.append(mantissa).append(mantissa).append(mantissa).append((char) (120 + i / 48));
      }
      Path scene = disk.getPath("/scene.hdr");
      Files.write(scene, hdr.toString().getBytes(StandardCharsets.ISO_8859_1));
      RigSettings settings = RigSettings.TYPICAL.withRaw(true);
      SimulatedRig rig =
          new SimulatedRig(settings, Scene.load(scene, new Ev(12)), folder, Faults.NONE);
      Instant now = Instant.parse("2026-05-04T03:00:00Z");
      for (String line : List.of("EXP:TIME 0.01;:TRIG:REL 1\n", "EXP:TIME 1;:TRIG:REL 2\n")) {
        rig.receive(line.getBytes(StandardCharsets.US_ASCII), now);
        now = now.plusSeconds(10);
        rig.runDue(now);
      }
      List<byte[]> frames = new ArrayList<>();
      try (Stream<Path> files = Files.list(folder)) {
        for (Path frame : files.sorted().toList()) {
          if (frame.toString().toLowerCase(Locale.ROOT).endsWith(extension)) {
            frames.add(Files.readAllBytes(frame));
          }
        }
      }
      return frames;
    }
  }

  private static byte[] written(String format, int type, String compression) throws IOException {
    BufferedImage image = new BufferedImage(24, 16, type);
    for (int i = 0; i < 24 * 16; i++) {
      image.setRGB(i % 24, i / 24, i * 0x030507);
    }
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    ImageWriter writer = ImageIO.getImageWritersByFormatName(format).next();
    try (MemoryCacheImageOutputStream output = new MemoryCacheImageOutputStream(bytes)) {
      ImageWriteParam wished = writer.getDefaultWriteParam();
      if (compression != null) {
        wished.setCompressionMode(ImageWriteParam.MODE_EXPLICIT);
        wished.setCompressionType(compression);
      }
      writer.setOutput(output);
      writer.write(null, new IIOImage(image, null, null), wished);
    } finally {
      writer.dispose();
    }
    return bytes.toByteArray();
  }

  private static List<byte[]> corpus(String extension, String folder) throws IOException {
    List<byte[]> files = new ArrayList<>();
    if (!Files.isDirectory(CORPUS)) {
      return files;
    }
    try (Stream<Path> all = Files.walk(CORPUS)) {
      for (Path file : all.filter(Files::isRegularFile).sorted().toList()) {
        String name = file.getFileName().toString();
        boolean fits =
            file.getParent().endsWith(folder) || name.matches("(?i).*\\.(" + extension + ")");
        if (fits && Files.size(file) <= MOST_BYTES) {
          files.add(Files.readAllBytes(file));
        }
      }
    }
    return files;
  }
}

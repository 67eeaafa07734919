package org.scenespan.fuzz;

import com.google.common.jimfs.Configuration;
import com.google.common.jimfs.Jimfs;
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
import org.scenespan.folder.FrameReader;
import org.scenespan.folder.UnreadableFrame;
import org.scenespan.light.Ev;
import org.scenespan.rehearsal.Faults;
import org.scenespan.rehearsal.RigSettings;
import org.scenespan.rehearsal.Scene;
import org.scenespan.rehearsal.SimulatedRig;

/** Frames of the simulated camera, JPEG or DNG, with their Exif. */
final class FrameTarget implements Target {
  private final FrameReader reader = new FrameReader();
  private final List<byte[]> seeds = new ArrayList<>();
  private final Path file;

  /**
   * @param extension of the frames, {@code jpg} or {@code dng}
   */
  FrameTarget(String extension) throws IOException {
    FileSystem disk = Jimfs.newFileSystem(Configuration.unix());
    Path folder = Files.createDirectory(disk.getPath("/frames"));
    StringBuilder hdr = new StringBuilder("#?RADIANCE\nFORMAT=32-bit_rle_rgbe\n\n-Y 16 +X 24\n");
    for (int i = 0; i < 16 * 24; i++) {
      char mantissa = (char) (128 + i % 64);
      hdr.append(mantissa).append(mantissa).append(mantissa).append((char) (120 + i / 48));
    }
    Path scene = disk.getPath("/scene.hdr");
    Files.write(scene, hdr.toString().getBytes(StandardCharsets.ISO_8859_1));
    SimulatedRig rig =
        new SimulatedRig(
            RigSettings.TYPICAL.withRaw(true), Scene.load(scene, new Ev(12)), folder, Faults.NONE);
    Instant now = Instant.parse("2026-05-04T03:00:00Z");
    for (String line : List.of("EXP:TIME 0.01;:TRIG:REL 1\n", "EXP:TIME 1;:TRIG:REL 2\n")) {
      rig.receive(line.getBytes(StandardCharsets.US_ASCII), now);
      now = now.plusSeconds(10);
      rig.runDue(now);
    }
    try (Stream<Path> files = Files.list(folder)) {
      for (Path frame : files.sorted().toList()) {
        if (frame.toString().toLowerCase(Locale.ROOT).endsWith(extension)) {
          seeds.add(Files.readAllBytes(frame));
        }
      }
    }
    file = disk.getPath("/frame." + extension);
  }

  @Override
  public List<byte[]> seeds() {
    return seeds;
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
        "2026:05:04 03:00:00",
        "\0\0\0\u0001");
  }

  @Override
  public void feed(byte[] input) throws IOException {
    Files.write(file, input);
    try {
      reader.read(file);
    } catch (UnreadableFrame told) {
      if (told.getMessage().contains("more memory than there is")) {
        throw new IOException("memory is not bounded", told);
      }
    }
  }
}

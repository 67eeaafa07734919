package org.scenespan.rehearsal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.File;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.scenespan.Needs;

/** Holds the raw file against a general-purpose raw library's tools and a metadata tool. */
class DngToolsIT {
  @TempDir Path folder;

  private static String run(Path tool, String... arguments) throws Exception {
    List<String> command = new ArrayList<>(List.of(tool.toString()));
    command.addAll(List.of(arguments));
    File output = Files.createTempFile("tool", ".txt").toFile();
    try {
      Process process =
          new ProcessBuilder(command).redirectErrorStream(true).redirectOutput(output).start();
      assertTrue(process.waitFor(60, TimeUnit.SECONDS), tool + " does not end");
      String said = Files.readString(output.toPath(), StandardCharsets.ISO_8859_1);
      assertEquals(0, process.exitValue(), said);
      return said;
    } finally {
      Files.delete(output.toPath());
    }
  }

  private Path write(SensorFrame frame) throws IOException {
    FrameLabel label = FrameFilesTest.label("1/125", "f/8", "100");
    return Files.write(folder.resolve("SCN_0001.DNG"), DngFile.encode(frame, label));
  }

  /** A PGM of 16 bits, big-endian: three fields of header, then the codes. */
  @ParameterizedTest
  @CsvSource({"640, 480", "641, 403", "1024, 512"})
  void rawLibraryReadsEveryCodeExactly(int width, int height) throws Exception {
    Path tool = Needs.tool("raw", "unprocessed_raw");
    SensorFrame frame = FrameFilesTest.wedge(width, height);
    Path dng = write(frame);
    run(tool, dng.toString());
    byte[] pgm = Files.readAllBytes(folder.resolve("SCN_0001.DNG.pgm"));
    String header = "P5\n" + width + " " + height + "\n65535\n";
    assertEquals(header, new String(pgm, 0, header.length(), StandardCharsets.US_ASCII));
    ByteBuffer codes = ByteBuffer.wrap(pgm).position(header.length()).slice();
    assertEquals(2 * width * height, codes.remaining());
    for (int y = 0; y < height; y++) {
      for (int x = 0; x < width; x++) {
        int code = frame.code(x, y, SensorFrame.mosaicChannel(x, y));
        assertEquals(code, codes.getShort() & 0xffff, x + ", " + y);
      }
    }
  }

  @Test
  void rawLibraryKnowsTheCamera() throws Exception {
    Path tool = Needs.tool("raw", "raw-identify");
    String said = run(tool, "-v", write(FrameFilesTest.wedge(640, 480)).toString());
    assertTrue(said.contains("Scenespan Simulated camera"), said);
    assertTrue(said.contains("RGGB") || said.contains("RG/GB") || said.contains("RGBG"), said);
    assertTrue(said.contains("640 x 480"), said);
  }

  @Test
  void rawLibraryDevelopsIt() throws Exception {
    Path tool = Needs.tool("raw", "dcraw_emu");
    Path dng = write(FrameFilesTest.wedge(640, 480));
    run(tool, "-w", dng.toString());
    assertTrue(Files.size(folder.resolve("SCN_0001.DNG.ppm")) >= 640 * 480 * 3);
  }

  @Test
  void metadataToolFindsNothingWrong() throws Exception {
    Path tool = Needs.tool("raw", "exiftool");
    Path dng = write(FrameFilesTest.wedge(640, 480));
    FrameLabel label = FrameFilesTest.label("1/125", "f/8", "100");
    Path jpeg =
        Files.write(
            folder.resolve("SCN_0001.JPG"), JpegFile.encode(FrameFilesTest.wedge(64, 32), label));
    for (Path file : List.of(dng, jpeg)) {
      String said = run(tool, "-validate", "-warning", "-error", "-a", "-s3", file.toString());
      assertEquals("OK", said.strip(), file.toString());
      String tags =
          run(
              tool,
              "-n",
              "-s3",
              "-ExposureTime",
              "-FNumber",
              "-ISO",
              "-SubSecDateTimeOriginal",
              file.toString());
      assertEquals("0.008\n8\n100\n2026:05:04 05:12:31.250+02:00", tags.strip());
    }
  }
}

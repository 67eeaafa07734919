package org.scenespan.jar;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.scenespan.jar.LiveBracket.is;
import static org.scenespan.jar.LiveBracket.only;
import static org.scenespan.jar.LiveBracket.requireCovered;

import java.io.ByteArrayOutputStream;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.zip.CRC32;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.condition.DisabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;

/**
 * Files that mean harm land in the hot folder of a session that runs, and it goes on. What a
 * foreign picture without metadata does to a session is the matching's business, not this test's.
 */
@Timeout(120)
@DisabledOnOs(value = OS.WINDOWS, disabledReason = "Windows has no pseudo-terminals")
class HostileFolderIT {
  private static final int SIDE = 65_535;

  @TempDir private Path directory;

  @Test
  void theSessionGoesOn() throws Exception {
    Path sessions = directory.resolve("sessions");
    Map<String, byte[]> files = hugeHeaders();
    // Its name would clear the terminal, and then says that all is well.
    files.put("\u001b[2J\rCovered.JPG", files.get("HUGE_1.JPG"));
    try (LiveBracket live = new LiveBracket(directory, sessions);
        Program bracket = live.start(List.of(), "--copies", "3")) {
      bracket.await(line -> is(line, "shot-commanded"));
      for (Map.Entry<String, byte[]> file : files.entrySet()) {
        Files.write(live.frames().resolve(file.getKey()), file.getValue());
      }
      assertEquals(0, bracket.exitCode(), bracket.errors());
      requireCovered(only(sessions));
      List<String> skipped =
          bracket.lines().stream().filter(line -> is(line, "frame-skipped")).toList();
      for (String name : files.keySet()) {
        String inJson = name.replace("\u001b", "\\u001B").replace("\r", "\\r");
        assertTrue(
            skipped.stream().anyMatch(line -> line.contains("\"" + inJson + "\"")),
            inJson + " is not among " + skipped);
      }
    }
    try (Program told =
        Program.start(
            directory,
            "sessions",
            "show",
            only(sessions).getFileName().toString(),
            "--sessions",
            sessions.toString())) {
      assertEquals(0, told.exitCode(), told.errors());
      String all = String.join("\n", told.lines());
      assertTrue(all.contains("?[2J?Covered.JPG cannot be read"), all);
      assertFalse(all.contains("\u001b"), all);
    }
  }

  /** Whole by their end marks, and each of four thousand million pixels by its header. */
  private static Map<String, byte[]> hugeHeaders() {
    Map<String, byte[]> files = new LinkedHashMap<>();
    files.put("HUGE_1.JPG", jpeg());
    files.put("HUGE_2.PNG", png());
    files.put("HUGE_3.TIF", tiff(2));
    files.put("HUGE_4.DNG", tiff(32803));
    return files;
  }

  private static byte[] jpeg() {
    ByteBuffer jpeg = ByteBuffer.allocate(33);
    jpeg.putShort((short) 0xffd8).putInt(0xffc0_000b).put((byte) 8);
    jpeg.putShort((short) SIDE).putShort((short) SIDE).put(new byte[] {1, 1, 0x11, 0});
    jpeg.putInt(0xffda_0008).put(new byte[] {1, 1, 0, 0, 63, 0, 0, 0});
    jpeg.putShort((short) 0xffd9);
    return jpeg.array();
  }

  private static byte[] png() {
    ByteArrayOutputStream png = new ByteArrayOutputStream();
    png.writeBytes(new byte[] {(byte) 0x89, 'P', 'N', 'G', 13, 10, 26, 10});
    byte[] header = ByteBuffer.allocate(13).putInt(SIDE).putInt(SIDE).put((byte) 8).array();
    chunk(png, "IHDR", header);
    chunk(png, "IDAT", new byte[8]);
    chunk(png, "IEND", new byte[0]);
    return png.toByteArray();
  }

  private static void chunk(ByteArrayOutputStream png, String type, byte[] content) {
    byte[] body =
        ByteBuffer.allocate(4 + content.length)
            .put(type.getBytes(StandardCharsets.US_ASCII))
            .put(content)
            .array();
    CRC32 sum = new CRC32();
    sum.update(body);
    png.writeBytes(ByteBuffer.allocate(4).putInt(content.length).array());
    png.writeBytes(body);
    png.writeBytes(ByteBuffer.allocate(4).putInt((int) sum.getValue()).array());
  }

  /** One strip of eight bytes. */
  private static byte[] tiff(int photometric) {
    int[][] entries = {
      {256, 4, SIDE},
      {257, 4, SIDE},
      {258, 3, 8},
      {259, 3, 1},
      {262, 3, photometric},
      {273, 4, 8},
      {277, 3, 1},
      {278, 4, SIDE},
      {279, 4, 8},
    };
    ByteBuffer tiff =
        ByteBuffer.allocate(16 + 2 + 12 * entries.length + 4).order(ByteOrder.LITTLE_ENDIAN);
    tiff.put(new byte[] {'I', 'I', 42, 0}).putInt(16).putLong(0).putShort((short) entries.length);
    for (int[] entry : entries) {
      tiff.putShort((short) entry[0]).putShort((short) entry[1]).putInt(1).putInt(entry[2]);
    }
    return tiff.putInt(0).array();
  }
}

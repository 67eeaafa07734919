package org.scenespan.folder;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTimeout;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.google.common.jimfs.Configuration;
import com.google.common.jimfs.Jimfs;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileSystem;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;
import org.scenespan.frame.FrameReading;

/**
 * Thousands of damaged files: one answer each, in time, and nothing but the one exception escapes.
 * Property {@code scenespan.mutations} sets how many of each file, {@code scenespan.mutation} the
 * first seed.
 */
class MutationTest {
  private static final Duration BOUND = Duration.ofSeconds(2);
  private static final int EACH = Integer.getInteger("scenespan.mutations", 250);
  private static final long FIRST = Long.getLong("scenespan.mutation", 1);

  private static List<byte[]> whole() {
    ByteOrder big = ByteOrder.BIG_ENDIAN;
    ByteOrder little = ByteOrder.LITTLE_ENDIAN;
    int[][] sites = Pictures.sites(50, 34, 16383, 3);
    DngForms.Lossless lossless = new DngForms.Lossless(2, 1, 0);
    List<byte[]> files = new ArrayList<>();
    files.add(Pictures.dng(big, sites).longs(50829, 1, 1, 33, 49).file());
    files.add(Pictures.dng(little, sites).shorts(50713, 2, 2).shorts(50714, 1, 2, 3, 4).file());
    files.add(DngForms.tiled(little, sites, 16, 14, lossless).file());
    files.add(
        DngForms.strips(big, sites, 9, 14, new DngForms.Lossless(1, 6, 2))
            .shorts(50712, 0, 5, 90)
            .file());
    files.add(DngForms.plainTiles(big, sites, 32, 12).file());
    files.add(TiffPictureTest.rgb(8, false).file());
    files.add(TiffPictureTest.rgb(16, false).shorts(284, 1).shorts(266, 1).file());
    files.add(TiffPictureTest.rgb(32, true).shorts(317, 1).file());
    byte[] jpeg = Pictures.jpeg(40, 30, 1);
    files.add(
        new TiffBytes(little)
            .data(513, jpeg)
            .longs(514, jpeg.length)
            .directory(330, Pictures.dng(little, Pictures.sites(8, 8, 99, 1)).shorts(259, 9))
            .file());
    byte[] packed = PngPictureTest.deflated(new byte[3 * 20 * 10]);
    files.add(
        DngForms.withPieces(
                TiffPictureTest.rgb(8, false).longs(256, 20).longs(257, 10).longs(278, 10),
                List.of(packed),
                273,
                279,
                8)
            .shorts(317, 2)
            .file());
    files.add(PngPictureTest.ramp());
    files.add(
        ("#?RADIANCE\nFORMAT=32-bit_rle_rgbe\n\n-Y 2 +X 3\n" + "abcdefghijklmnopqrstuvwx")
            .getBytes(StandardCharsets.US_ASCII));
    files.add(jpeg);
    return files;
  }

  @Test
  void oneAnswerEach() throws Exception {
    Map<String, Integer> answers = new TreeMap<>();
    try (FileSystem memory = Jimfs.newFileSystem(Configuration.unix())) {
      int number = 0;
      for (byte[] file : whole()) {
        assertEquals(
            "read", answer(Files.write(memory.getPath("/a.tif"), file)), "whole " + number);
        for (int i = 0; i < EACH; i++) {
          long seed = FIRST + number * 1_000_003L + i;
          byte[] damaged = new Mutator(seed).mutated(file);
          Path path = Files.write(memory.getPath("/a.tif"), damaged);
          String answer = assertTimeout(BOUND, () -> answer(path), () -> "seed " + seed);
          answers.merge(answer, 1, Integer::sum);
        }
        number++;
      }
    }
    assertTrue(answers.get("read") > EACH, answers::toString);
    assertTrue(answers.get("unreadable") > EACH, answers::toString);
    assertEquals(2, answers.size(), answers::toString);
  }

  /** Anything but a reading and the one exception is told by its name. */
  private static String answer(Path path) {
    try {
      FrameReading reading = new FrameReader().read(path);
      assertEquals(reading.measure().pixels(), reading.measure().luminance().total());
      return "read";
    } catch (UnreadableFrame e) {
      assertEquals(1, e.getMessage().lines().count(), e.getMessage());
      // An answer all the same, but one that the checks should have given with a better reason.
      return e.getMessage().startsWith("the file makes no sense") ? e.getMessage() : "unreadable";
    } catch (RuntimeException | Error e) {
      return e + " at " + Arrays.toString(e.getStackTrace()).substring(0, 200);
    }
  }
}

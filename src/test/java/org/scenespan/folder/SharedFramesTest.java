package org.scenespan.folder;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTimeout;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;
import org.scenespan.frame.CaptureTime;
import org.scenespan.frame.FrameMetadata;
import org.scenespan.frame.FrameReading;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;

/** Camera files and broken files from beside the project. */
class SharedFramesTest {
  /** Generous for a machine under load; the bound that is wanted is two seconds a file. */
  private static final Duration BOUND = Duration.ofSeconds(2);

  /** Files that the reader refuses, and why. */
  private static final Map<String, String> REFUSED =
      Map.of(
          "pair-01.crw", "its first bytes are those of no format that is read",
          "photo-14.gpr", "its raw data is compressed (kind 9), and it carries no JPEG");

  /** The standard Exif tags as a general-purpose metadata tool reads them. */
  @Test
  void exifOfEveryPhotograph() throws Exception {
    Path folder = SharedFiles.folder("photos");
    JsonNode oracle =
        new ObjectMapper().readTree(Files.readAllBytes(folder.resolve("exif-oracle.json")));
    List<String> wrong = new ArrayList<>();
    int read = 0;
    for (JsonNode photo : oracle) {
      String name = photo.get("file").asText();
      try {
        compare(photo, new FrameReader().read(folder.resolve(name)), wrong);
        read++;
      } catch (UnreadableFrame e) {
        if (!e.getMessage().equals(REFUSED.get(name))) {
          wrong.add(name + ": " + e.getMessage());
        }
      }
    }
    assertEquals(List.of(), wrong);
    assertEquals(oracle.size() - REFUSED.size(), read);
  }

  private static void compare(JsonNode photo, FrameReading reading, List<String> wrong) {
    String name = photo.get("file").asText();
    FrameMetadata metadata = reading.metadata();
    check(wrong, name, "width", photo.get("ImageWidth"), reading.measure().width());
    check(wrong, name, "height", photo.get("ImageHeight"), reading.measure().height());
    // A time that is itself an exact step, 1/64, is shown by the step's engraved name, 1/60.
    double written = photo.path("ExposureTime").asDouble(Double.NaN);
    double exact = metadata.shutter().map(Shutter::seconds).orElse(Double.NaN);
    if (!(Math.abs(exact - written) <= 0.002 * written)) {
      check(
          wrong,
          name,
          "shutter",
          photo.get("ExposureTime"),
          metadata.shutter().map(Shutter::nominalSeconds).orElse(Double.NaN));
    }
    check(
        wrong,
        name,
        "aperture",
        photo.get("FNumber"),
        metadata.aperture().map(a -> a.nominalNumber()).orElse(Double.NaN));
    check(
        wrong,
        name,
        "iso",
        photo.get("ISO"),
        metadata.iso().map(Iso::nominalSpeed).orElse(Double.NaN));
    check(
        wrong,
        name,
        "compensation",
        photo.get("ExposureCompensation"),
        metadata.compensation().map(c -> c.value()).orElse(Double.NaN));
    check(wrong, name, "orientation", photo.get("Orientation"), metadata.orientation());
    String time = text(photo, "DateTimeOriginal");
    String got = metadata.capturedAt().map(SharedFramesTest::written).orElse("");
    String parts = text(photo, "SubSecTimeOriginal");
    String offset = text(photo, "OffsetTimeOriginal");
    String wanted = time.isEmpty() ? "" : time + (parts.isEmpty() ? "" : "." + parts) + offset;
    if (!wanted.equals(got)) {
      wrong.add(name + ": time " + got + ", oracle " + wanted);
    }
  }

  /** The time with as many parts of a second as the file wrote, two or three. */
  private static String written(CaptureTime time) {
    int nano = time.local().getNano();
    String pattern = time.subSeconds() ? nano % 10_000_000 == 0 ? ".SS" : ".SSS" : "";
    return DateTimeFormatter.ofPattern("uuuu:MM:dd HH:mm:ss" + pattern).format(time.local())
        + time.offset().map(Object::toString).orElse("");
  }

  private static String text(JsonNode photo, String tag) {
    return photo.has(tag) ? photo.get(tag).asText() : "";
  }

  /** 0.2 % is what the engraved names allow; the oracle's own numbers have ten digits. */
  private static void check(
      List<String> wrong, String name, String what, JsonNode oracle, double got) {
    double expected =
        oracle != null ? oracle.asDouble() : what.equals("orientation") ? 1 : Double.NaN;
    boolean same =
        Double.isNaN(expected)
            ? Double.isNaN(got)
            : Math.abs(got - expected) <= 0.002 * Math.abs(expected);
    if (!same) {
      wrong.add(name + ": " + what + " " + got + ", oracle " + expected);
    }
  }

  /** One answer each, none over two seconds, and nothing but the one exception escapes. */
  @Test
  void hostileFilesGetOneAnswerEach() throws Exception {
    List<Path> files = SharedFiles.filesBelow(SharedFiles.folder("hostile"));
    assertTrue(files.size() > 350, files.size() + " files");
    Map<String, Integer> answers = new TreeMap<>();
    for (Path file : files) {
      String answer = assertTimeout(BOUND, () -> answer(file), file::toString);
      answers.merge(answer, 1, Integer::sum);
      Optional<String> missing =
          assertTimeout(
              BOUND, () -> EndMark.missing(file, new FrameName("x.jpg", "x", FrameName.Kind.JPEG)));
      if (answer.equals("read")) {
        assertEquals(Optional.empty(), missing, file + " is read and so must be whole");
      }
    }
    assertTrue(answers.get("unreadable") > 300, answers::toString);
    assertTrue(answers.get("read") > 10, answers::toString);
  }

  private static String answer(Path file) {
    try {
      FrameReading reading = new FrameReader().read(file);
      assertEquals(reading.measure().pixels(), reading.measure().luminance().total());
      return "read";
    } catch (UnreadableFrame e) {
      assertEquals(1, e.getMessage().lines().count(), e.getMessage());
      return "unreadable";
    }
  }
}

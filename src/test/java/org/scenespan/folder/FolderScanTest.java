package org.scenespan.folder;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.google.common.jimfs.Configuration;
import com.google.common.jimfs.Jimfs;
import java.io.IOException;
import java.nio.ByteOrder;
import java.nio.file.FileSystem;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.scenespan.session.Input;

class FolderScanTest {
  private static final byte[] JPEG = Pictures.jpeg(32, 24, 1);

  private Instant now = Instant.parse("2026-05-04T03:00:00Z");
  private FileSystem memory;
  private Path folder;
  private Path previews;
  private FolderScan scan;

  @BeforeEach
  void makeFolder() throws IOException {
    memory = Jimfs.newFileSystem(Configuration.unix());
    folder = Files.createDirectory(memory.getPath("/frames"));
    previews = memory.getPath("/session");
    scan = scan(Measure.RAW);
  }

  private FolderScan scan(Measure measure) {
    return new FolderScan(
        new HotFolder(folder, Set.of(), HotFolder.QUIET),
        new Pairing(measure, Pairing.WAIT),
        new FrameReader(),
        Optional.of(new PreviewStore(previews)));
  }

  @AfterEach
  void closeFolder() throws IOException {
    memory.close();
  }

  /** Looks for a time, at the instants that the scan itself asks for, and tells in words. */
  private List<String> lookFor(Duration time) {
    List<String> told = new ArrayList<>();
    for (Instant end = now.plus(time); now.isBefore(end); ) {
      scan.scan(now).forEach(input -> told.add(inWords(input)));
      Instant next = now.plusMillis(500);
      now = scan.nextDue().filter(due -> due.isBefore(next)).orElse(next);
    }
    return told;
  }

  private static String inWords(Input input) {
    if (input instanceof Input.FrameMeasured measured) {
      String companion = measured.reading().companion().map(name -> " with " + name).orElse("");
      return measured.reading().file()
          + " "
          + measured.reading().measure().source().label()
          + companion
          + measured.reading().replaces().map(name -> " in place of " + name).orElse("");
    }
    if (input instanceof Input.FrameUnreadable unreadable) {
      return unreadable.file() + ": " + unreadable.reason();
    }
    return input.toString();
  }

  private void write(String name, byte[] content) throws IOException {
    Files.write(folder.resolve(name), content);
  }

  @Test
  void rawAndJpegAreOneFrame() throws IOException {
    write("A.JPG", JPEG);
    assertEquals(List.of(), lookFor(Duration.ofSeconds(2)));
    write("A.dng", Pictures.dng(ByteOrder.BIG_ENDIAN, Pictures.sites(16, 8, 16383, 1)).file());
    assertEquals(List.of("A.dng raw with A.JPG"), lookFor(Duration.ofMinutes(2)));
    assertTrue(Files.exists(previews.resolve("preview-A.dng.jpg")));
    assertTrue(Files.exists(previews.resolve("mask-A.dng.png")));
    assertEquals(2, HotFolder.names(folder).size(), "nothing is written into the hot folder");
  }

  @Test
  void aRawTakesTheJpegsPlace() throws IOException {
    scan =
        new FolderScan(
            new HotFolder(folder, Set.of(), HotFolder.QUIET),
            new Pairing(Measure.JPEG_THEN_RAW, Pairing.WAIT),
            new FrameReader(),
            Optional.empty());
    write("A.JPG", JPEG);
    write("B.JPG", JPEG);
    assertEquals(List.of("A.JPG full", "B.JPG full"), lookFor(Duration.ofSeconds(2)));
    TiffBytes raw = Pictures.dng(ByteOrder.BIG_ENDIAN, Pictures.sites(16, 8, 16383, 1));
    write("A.dng", raw.file());
    write("B.dng", raw.shorts(259, 9).file());
    assertEquals(List.of("A.dng raw with A.JPG in place of A.JPG"), lookFor(Duration.ofMinutes(2)));
  }

  @Test
  void aJpegAloneIsMeasuredAfterAWhile() throws IOException {
    write("A.JPG", JPEG);
    assertEquals(List.of("A.JPG full"), lookFor(Duration.ofMinutes(2)));
  }

  @Test
  void aHalfWrittenAndADamagedFileAreNamedAndTheOthersGoOn() throws IOException {
    byte[] big = Pictures.jpeg(200, 150, 1);
    byte[] damaged = Arrays.copyOf(big, big.length / 2 + 2);
    damaged[damaged.length - 2] = (byte) 0xff;
    damaged[damaged.length - 1] = (byte) 0xd9;
    write("half.dng", Arrays.copyOf(JPEG, JPEG.length / 2));
    write("damaged.jpg", damaged);
    write("good.jpg", JPEG);
    write("x.png", new byte[] {1, 2, 3});
    List<String> told = lookFor(Duration.ofMinutes(2));
    assertEquals(4, told.size(), told::toString);
    assertTrue(told.contains("good.jpg full"), told::toString);
    assertTrue(told.contains("half.dng: the JPEG's end mark is missing"), told::toString);
    assertTrue(told.contains("x.png: its first bytes are not those of a picture"));
    assertTrue(
        told.stream().anyMatch(line -> line.startsWith("damaged.jpg: the JPEG is damaged")),
        told::toString);
  }

  @Test
  void aLossAndAReturnAreToldOnceEach() throws IOException {
    write("a.dng", Pictures.dng(ByteOrder.BIG_ENDIAN, Pictures.sites(8, 8, 16383, 1)).file());
    assertEquals(List.of("a.dng raw"), lookFor(Duration.ofSeconds(3)));
    Path elsewhere = memory.getPath("/elsewhere");
    Files.move(folder, elsewhere);
    assertEquals(
        List.of("FolderLost[reason=hot folder /frames does not exist]"),
        lookFor(Duration.ofSeconds(30)));
    Files.move(elsewhere, folder);
    assertEquals(List.of("FolderReturned[]"), lookFor(Duration.ofSeconds(30)));
  }

  /** As the live watch does: a look, and a reading ahead. */
  private List<Input> lookAt(long millis) {
    Instant at = now.plusMillis(millis);
    List<Input> told = scan.scan(at);
    scan.readAhead(at);
    return told;
  }

  @Test
  void aFileIsReadInItsQuietTimeAndToldAfterIt() throws IOException {
    scan = scan(Measure.JPEG);
    Files.write(folder.resolve("a.jpg"), JPEG);
    assertEquals(List.of(), lookAt(0));
    assertEquals(Optional.of(now.plus(GrowingFiles.STILL)), scan.nextAhead());
    assertTrue(Files.notExists(previews), "not at once");
    assertEquals(List.of(), lookAt(60));
    assertEquals(Optional.empty(), scan.nextAhead());
    Path preview = previews.resolve("preview-a.jpg.jpg");
    Files.delete(preview);
    assertEquals(List.of(), lookAt(399));
    assertEquals(1, lookAt(400).size());
    assertTrue(Files.notExists(preview), "it was not read once more");
    assertEquals(List.of(), lookAt(2000));
  }

  @Test
  void whatWasReadOfAFileThatChangesCountsForNothing() throws IOException {
    scan = scan(Measure.JPEG);
    Path file = folder.resolve("a.jpg");
    Files.write(file, Pictures.jpeg(32, 24, 2));
    Files.setLastModifiedTime(file, FileTime.from(now.plusNanos(1)));
    lookAt(0);
    lookAt(100);
    Files.write(file, Pictures.jpeg(48, 16, 1));
    Files.setLastModifiedTime(file, FileTime.from(now.plusNanos(2)));
    assertEquals(List.of(), lookAt(400), "its quiet time begins anew");
    List<Input> told = lookAt(800);
    assertEquals(48, ((Input.FrameMeasured) told.get(0)).reading().measure().width());
  }

  @Test
  void aFileWhoseTimeIsCoarseOrThatIsHalfIsNotReadAhead() throws IOException {
    scan = scan(Measure.JPEG);
    Files.write(folder.resolve("half.jpg"), Arrays.copyOf(JPEG, JPEG.length - 40));
    Path coarse = Files.write(folder.resolve("coarse.jpg"), JPEG);
    Files.setLastModifiedTime(coarse, FileTime.from(Instant.parse("2026-05-04T03:00:02Z")));
    Files.write(folder.resolve("beside.jpg"), JPEG);
    for (int millis = 0; millis < 400; millis += 60) {
      assertEquals(List.of(), lookAt(millis));
    }
    assertTrue(Files.exists(previews.resolve("preview-beside.jpg.jpg")));
    assertTrue(Files.notExists(previews.resolve("preview-half.jpg.jpg")));
    assertTrue(Files.notExists(previews.resolve("preview-coarse.jpg.jpg")));
  }

  @Test
  void aJpegThatWaitsForItsRawFileIsNotReadAhead() throws IOException {
    Files.write(folder.resolve("a.jpg"), JPEG);
    lookAt(0);
    lookAt(100);
    assertTrue(Files.notExists(previews));
  }
}

package org.scenespan.folder;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.google.common.jimfs.Configuration;
import com.google.common.jimfs.Jimfs;
import java.io.IOException;
import java.nio.file.FileSystem;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class HotFolderTest {
  private static final byte[] JPEG = Pictures.jpeg(32, 24, 1);

  private Instant now = Instant.parse("2026-05-04T03:00:00Z");
  private FileSystem memory;
  private Path folder;
  private HotFolder hot;

  @BeforeEach
  void makeFolder() throws IOException {
    // Virtual time: a file's time moves only when the test says so.
    memory =
        Jimfs.newFileSystem(Configuration.unix().toBuilder().setFileTimeSource(this::time).build());
    folder = Files.createDirectory(memory.getPath("/frames"));
    hot = new HotFolder(folder, Set.of(), HotFolder.QUIET);
  }

  private FileTime time() {
    return FileTime.from(now);
  }

  @AfterEach
  void closeFolder() throws IOException {
    memory.close();
  }

  private void pass(long milliseconds) {
    now = now.plusMillis(milliseconds);
  }

  private void write(String name, byte[] content) throws IOException {
    Files.write(folder.resolve(name), content);
  }

  /** Looks every half second for a time and gathers what comes. */
  private List<Arrival> lookFor(Duration time) throws IOException {
    List<Arrival> arrivals = new ArrayList<>();
    for (Instant end = now.plus(time); now.isBefore(end); pass(500)) {
      arrivals.addAll(hot.scan(now));
    }
    return arrivals;
  }

  private static List<String> names(List<Arrival> arrivals) {
    return arrivals.stream().map(Arrival::name).toList();
  }

  @Test
  void aFileThatAppearsWholeComesOnceAfterTheQuietTime() throws IOException {
    write("a.jpg", JPEG);
    assertEquals(List.of(), hot.scan(now));
    assertEquals(now.plus(HotFolder.QUIET), hot.nextLook().orElseThrow());
    pass(399);
    assertEquals(List.of(), hot.scan(now));
    pass(1);
    assertEquals(List.of(new Arrival.Whole(folder.resolve("a.jpg"))), hot.scan(now));
    assertTrue(hot.nextLook().isEmpty());
    assertEquals(List.of(), lookFor(Duration.ofMinutes(2)));
  }

  @Test
  void aFileThatGrowsInPlaceComesOnceWhenItIsWhole() throws IOException {
    List<Arrival> arrivals = new ArrayList<>();
    for (int length = 0; length < JPEG.length; length += 97) {
      write("a.jpg", Arrays.copyOf(JPEG, length));
      arrivals.addAll(hot.scan(now));
      pass(300);
    }
    assertEquals(List.of(), arrivals);
    write("a.jpg", JPEG);
    assertEquals(List.of("a.jpg"), names(lookFor(Duration.ofMinutes(2))));
  }

  @Test
  void aPauseInTheMiddleOfTheWritingIsNotTheEnd() throws IOException {
    write("a.jpg", Arrays.copyOf(JPEG, JPEG.length / 2));
    assertEquals(List.of(), lookFor(Duration.ofSeconds(20)));
    write("a.jpg", JPEG);
    assertEquals(List.of("a.jpg"), names(lookFor(Duration.ofSeconds(2))));
  }

  @Test
  void aFileThatGrowsWithinOneCoarseTimeStampIsStillFound() throws IOException {
    FileTime stuck = time();
    write("a.jpg", new byte[JPEG.length]);
    Files.setLastModifiedTime(folder.resolve("a.jpg"), stuck);
    assertEquals(List.of(), lookFor(Duration.ofSeconds(1)));
    write("a.jpg", JPEG);
    Files.setLastModifiedTime(folder.resolve("a.jpg"), stuck);
    assertInstanceOf(Arrival.Whole.class, lookFor(Duration.ofSeconds(20)).get(0));
  }

  @Test
  void aFileRenamedIntoPlaceComesOnce() throws IOException {
    for (String hidden : List.of(".a.jpg.x1", "a.jpg.part", "a.tmp", "a.jpg~")) {
      write(hidden, JPEG);
    }
    assertEquals(List.of(), lookFor(Duration.ofSeconds(40)));
    Files.move(folder.resolve("a.jpg.part"), folder.resolve("a.jpg"));
    assertEquals(List.of("a.jpg"), names(lookFor(Duration.ofSeconds(40))));
  }

  @Test
  void aFileReplacedUnderTheSameNameComesAgain() throws IOException {
    write("a.jpg", JPEG);
    assertEquals(List.of("a.jpg"), names(lookFor(Duration.ofSeconds(2))));
    write("a.jpg", Pictures.jpeg(48, 24, 2));
    assertEquals(List.of("a.jpg"), names(lookFor(Duration.ofSeconds(2))));
    Files.delete(folder.resolve("a.jpg"));
    assertEquals(List.of(), lookFor(Duration.ofSeconds(2)));
    write("a.jpg", JPEG);
    assertEquals(List.of("a.jpg"), names(lookFor(Duration.ofSeconds(2))));
  }

  @Test
  void aFileHalfWrittenForEverIsBrokenOnce() throws IOException {
    write("a.jpg", Arrays.copyOf(JPEG, JPEG.length / 2));
    assertEquals(List.of(), lookFor(Duration.ofMillis(29_900)));
    List<Arrival> arrivals = lookFor(Duration.ofMinutes(2));
    assertEquals(
        List.of(new Arrival.Broken(folder.resolve("a.jpg"), "the JPEG's end mark is missing")),
        arrivals);
    write("a.jpg", JPEG);
    assertEquals(
        List.of(new Arrival.Whole(folder.resolve("a.jpg"))), lookFor(Duration.ofSeconds(2)));
  }

  @Test
  void anEmptyFileIsNeverWhole() throws IOException {
    write("a.jpg", new byte[0]);
    write("a.nef", new byte[0]);
    List<Arrival> arrivals = lookFor(Duration.ofMinutes(2));
    assertEquals(List.of("a.jpg", "a.nef"), names(arrivals));
    arrivals.forEach(arrival -> assertInstanceOf(Arrival.Broken.class, arrival));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "notes.txt",
        "a.xmp",
        "movie.mov",
        "jpg",
        ".jpg",
        "a.jpg.part",
        "a.jpg.tmp",
        "~a.jpg"
      })
  void whatIsNoPictureIsIgnored(String name) throws IOException {
    write(name, JPEG);
    Files.createDirectory(folder.resolve("folder.jpg"));
    assertEquals(List.of(), lookFor(Duration.ofMinutes(2)));
    assertTrue(hot.nextLook().isEmpty());
  }

  @Test
  void fiveThousandOldFilesAreIgnoredAndNoneIsOpened() throws IOException {
    for (int i = 0; i < 5000; i++) {
      write("old-" + i + ".jpg", new byte[] {1});
    }
    hot = new HotFolder(folder, HotFolder.names(folder), HotFolder.QUIET);
    write("new.jpg", JPEG);
    assertEquals(List.of("new.jpg"), names(lookFor(Duration.ofSeconds(5))));
    write("old-17.jpg", JPEG);
    assertEquals(List.of("old-17.jpg"), names(lookFor(Duration.ofSeconds(5))));
  }

  @Test
  void aBurstComesInTheOrderOfItsTimes() throws IOException {
    for (String name : List.of("c.jpg", "a.JPG", "b.jpeg")) {
      write(name, JPEG);
      pass(10);
    }
    assertEquals(List.of("c.jpg", "a.JPG", "b.jpeg"), names(lookFor(Duration.ofSeconds(2))));
  }

  @Test
  void aFolderThatGoesAndComesBackTellsNothingTwice() throws IOException {
    write("a.jpg", JPEG);
    assertEquals(List.of("a.jpg"), names(lookFor(Duration.ofSeconds(2))));
    Path elsewhere = memory.getPath("/elsewhere");
    Files.move(folder, elsewhere);
    IOException lost = assertThrows(IOException.class, () -> hot.scan(now));
    assertEquals("hot folder /frames does not exist", lost.getMessage());
    assertThrows(IOException.class, () -> HotFolder.names(folder));
    Files.createDirectory(folder);
    assertEquals(List.of(), hot.scan(now), "an unmounted place is empty");
    Files.delete(folder);
    Files.move(elsewhere, folder);
    write("b.jpg", JPEG);
    assertEquals(List.of("b.jpg"), names(lookFor(Duration.ofSeconds(2))));
  }

  @Test
  void aFolderThatIsAFileIsRefused() throws IOException {
    Path file = Files.write(memory.getPath("/file"), new byte[3]);
    HotFolder wrong = new HotFolder(file, Set.of(), HotFolder.QUIET);
    IOException error = assertThrows(IOException.class, () -> wrong.scan(now));
    assertEquals("hot folder /file is no folder", error.getMessage());
  }

  @Test
  void noFileIsTouched() throws IOException {
    write("a.jpg", JPEG);
    write("b.jpg", Arrays.copyOf(JPEG, 40));
    Instant written = now;
    pass(1000);
    lookFor(Duration.ofMinutes(1));
    assertArrayEquals(JPEG, Files.readAllBytes(folder.resolve("a.jpg")));
    for (String name : List.of("a.jpg", "b.jpg")) {
      assertEquals(FileTime.from(written), Files.getLastModifiedTime(folder.resolve(name)));
    }
    assertEquals(2, HotFolder.names(folder).size());
  }

  @ParameterizedTest
  @ValueSource(longs = {-1, 30_000})
  void refusesAQuietTimeOutOfRange(long milliseconds) {
    assertThrows(
        IllegalArgumentException.class,
        () -> new HotFolder(folder, Set.of(), Duration.ofMillis(milliseconds)));
  }
}

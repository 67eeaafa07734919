package org.scenespan.folder;

import static org.junit.jupiter.api.Assertions.assertEquals;
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
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** A folder of so many files that not each is looked at each time: none of them is missed by it. */
class ManyFilesTest {
  private static final byte[] JPEG = Pictures.jpeg(32, 24, 1);
  private static final int OLD = 600;

  private Instant now = Instant.parse("2026-05-04T03:00:00Z");
  private FileSystem memory;
  private Path folder;
  private HotFolder hot;

  @BeforeEach
  void makeFolder() throws IOException {
    memory =
        Jimfs.newFileSystem(
            Configuration.unix().toBuilder().setFileTimeSource(() -> FileTime.from(now)).build());
    folder = Files.createDirectory(memory.getPath("/frames"));
    for (int i = 0; i < OLD; i++) {
      write(old(i));
    }
    hot = new HotFolder(folder, HotFolder.names(folder), HotFolder.QUIET).sparing();
    now = now.plusSeconds(100);
    assertEquals(List.of(), namesFor(Duration.ofSeconds(1)));
  }

  @AfterEach
  void closeFolder() throws IOException {
    memory.close();
  }

  private static String old(int number) {
    return String.format(Locale.ROOT, "OLD_%04d.JPG", number);
  }

  private void write(String name) throws IOException {
    Files.write(folder.resolve(name), JPEG);
  }

  /** Looks every half second for a time: what comes. */
  private List<String> namesFor(Duration time) throws IOException {
    List<String> names = new ArrayList<>();
    for (Instant end = now.plus(time); now.isBefore(end); now = now.plusMillis(500)) {
      hot.scan(now).forEach(arrival -> names.add(arrival.name()));
    }
    return names;
  }

  private void comesOnceWithin(Duration time, String name) throws IOException {
    assertEquals(List.of(name), namesFor(time));
    assertEquals(List.of(), namesFor(Duration.ofMinutes(3)));
  }

  @Test
  void aNewFileComesOnceWithoutAnyHint() throws IOException {
    write("NEW.JPG");
    comesOnceWithin(Duration.ofSeconds(2), "NEW.JPG");
  }

  @Test
  void twoFilesOfOneTickBothCome() throws IOException {
    write("A.JPG");
    FileTime tick = Files.getLastModifiedTime(folder);
    assertEquals(List.of(), namesFor(Duration.ofMillis(100)));
    write("B.JPG");
    Files.setLastModifiedTime(folder, tick);
    assertEquals(Set.of("A.JPG", "B.JPG"), new HashSet<>(namesFor(Duration.ofSeconds(7))));
  }

  @Test
  void aHintedFileComesWithoutAListing() throws IOException {
    trustHints();
    write("B.JPG");
    write("UNTOLD.JPG");
    hot.hint("B.JPG");
    assertEquals(List.of("B.JPG"), namesFor(Duration.ofSeconds(2)), "the folder was not listed");
    assertEquals(List.of("UNTOLD.JPG"), namesFor(Duration.ofSeconds(62)), "but now it was");
    write("C.JPG");
    comesOnceWithin(Duration.ofSeconds(2), "C.JPG");
  }

  /** From a new file that a hint told of. */
  private void trustHints() throws IOException {
    write("A.JPG");
    hot.hint("A.JPG");
    assertEquals(List.of("A.JPG"), namesFor(Duration.ofSeconds(2)));
  }

  @Test
  void withoutAHintTheFoldersOwnTimeTells() throws IOException {
    trustHints();
    write("B.JPG");
    comesOnceWithin(Duration.ofSeconds(2), "B.JPG");
  }

  @Test
  void afterAMissedHintTheFolderIsListed() throws IOException {
    trustHints();
    write("B.JPG");
    write("UNTOLD.JPG");
    hot.hint("B.JPG");
    hot.hintMissed();
    assertEquals(Set.of("B.JPG", "UNTOLD.JPG"), new HashSet<>(namesFor(Duration.ofSeconds(2))));
  }

  @Test
  void aHintOfAnyNameDoesNoHarm() throws IOException {
    trustHints();
    List.of("GONE.JPG", "notes.txt", "A.JPG", old(7)).forEach(hot::hint);
    assertEquals(List.of(), namesFor(Duration.ofSeconds(2)));
    write("B.JPG");
    for (int i = 0; i < 5_000; i++) {
      hot.hint("NONE_" + i + ".JPG");
    }
    comesOnceWithin(Duration.ofSeconds(2), "B.JPG");
  }

  @Test
  void theLastFileRewrittenComesAgain() throws IOException {
    trustHints();
    hot.hintMissed();
    namesFor(Duration.ofSeconds(1));
    write("A.JPG");
    comesOnceWithin(Duration.ofSeconds(7), "A.JPG");
  }

  @Test
  void aCounterThatBeginsAgainComesAgain() throws IOException {
    for (int i = 0; i < 40; i++) {
      write(old(i));
      assertEquals(List.of(old(i)), namesFor(Duration.ofSeconds(7)));
    }
  }

  @Test
  void anyFileRewrittenComesAgainInItsTurn() throws IOException {
    write(old(300));
    comesOnceWithin(Duration.ofSeconds(60), old(300));
  }

  @Test
  void ofARewrittenFileAHintTellsAtOnce() throws IOException {
    write(old(300));
    hot.hint(old(300));
    comesOnceWithin(Duration.ofSeconds(2), old(300));
  }

  @Test
  void aNameThatWasAwayAndIsUsedAgainComesAtOnce() throws IOException {
    Files.delete(folder.resolve(old(300)));
    assertEquals(List.of(), namesFor(Duration.ofSeconds(2)));
    write(old(300));
    comesOnceWithin(Duration.ofSeconds(2), old(300));
  }

  @Test
  void whatIsMovedAwayAndBackIsNotNew() throws IOException {
    Path elsewhere = memory.getPath("/elsewhere");
    Files.move(folder.resolve(old(300)), elsewhere);
    assertEquals(List.of(), namesFor(Duration.ofSeconds(2)));
    Files.move(elsewhere, folder.resolve(old(300)));
    assertEquals(List.of(), namesFor(Duration.ofMinutes(2)));
  }

  @Test
  void ofTenThousandFewAreLookedAtAndEachInItsTurn() {
    SettledFiles files = new SettledFiles(true);
    HotFolder.Stamp stamp = new HotFolder.Stamp(1, 0, 1);
    files.beginListing();
    for (int i = 0; i < 10_000; i++) {
      files.settle("F" + i, stamp);
    }
    Set<String> had = new HashSet<>();
    for (int listing = 0; listing < 128; listing++) {
      files.beginListing();
      int due = 0;
      for (int i = 0; i < 10_000; i++) {
        if (files.isDue("F" + i)) {
          due++;
          had.add("F" + i);
        }
      }
      int most = 2 * (SettledFiles.AT_EACH_END + SettledFiles.IN_TURN);
      assertTrue(due <= most, due + " files are looked at");
    }
    assertEquals(10_000, had.size());
    assertTrue(files.isDue("NEW"));
  }

  @Test
  void theOldestThatAreThereAreLookedAtWhenOlderOnesAreGone() {
    SettledFiles files = new SettledFiles(true);
    HotFolder.Stamp stamp = new HotFolder.Stamp(1, 0, 1);
    files.beginListing();
    for (int i = 0; i < 10_000; i++) {
      files.settle("F" + i, stamp);
    }
    List<Integer> times = new ArrayList<>();
    for (int listing = 0; listing < 20; listing++) {
      files.beginListing();
      for (int i = 100; i < 10_000; i++) {
        if (files.isDue("F" + i) && i == 100) {
          times.add(listing);
        }
      }
    }
    assertTrue(times.containsAll(List.of(16, 17, 18, 19)), times.toString());
  }
}

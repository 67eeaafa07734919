package org.scenespan.folder;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertNull;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.time.Duration;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.scenespan.session.Input;

/** The live watch on a real file system. */
class FolderIT {
  private static final byte[] JPEG = Pictures.jpeg(64, 48, 1);

  @TempDir Path home;
  private Path folder;
  private final BlockingQueue<Input> inbox = new LinkedBlockingQueue<>();
  private FolderWatch watch;

  @BeforeEach
  void start() throws IOException {
    folder = Files.createDirectory(home.resolve("frames"));
    Files.write(folder.resolve("old.jpg"), JPEG);
    watch(new HotFolder(folder, HotFolder.names(folder), Duration.ofMillis(200)));
  }

  private void watch(HotFolder hot) {
    FolderScan scan =
        new FolderScan(
            hot,
            new Pairing(Measure.JPEG, Pairing.WAIT),
            new FrameReader(),
            Optional.of(new PreviewStore(home.resolve("session"))));
    watch = FolderWatch.start(scan, InstantSource.system(), inbox::add);
  }

  @AfterEach
  void stop() {
    watch.close();
    assertEquals(List.of(), threads());
  }

  private static List<String> threads() {
    List<String> names = new ArrayList<>();
    for (Thread thread : Thread.getAllStackTraces().keySet()) {
      if (thread.getName().equals("folder")) {
        names.add(thread.getName());
      }
    }
    return names;
  }

  private Input next() throws InterruptedException {
    Input input = inbox.poll(20, TimeUnit.SECONDS);
    assertNotNull(input, "nothing came within 20 s");
    return input;
  }

  private String nextFile() throws InterruptedException {
    return assertInstanceOf(Input.FrameMeasured.class, next()).reading().file();
  }

  private void nothingMore() throws InterruptedException {
    assertNull(inbox.poll(1500, TimeUnit.MILLISECONDS));
  }

  @Test
  void aFileThatGrowsInPlaceIsNoticedOnce() throws Exception {
    Path file = folder.resolve("a.jpg");
    for (int from = 0; from < JPEG.length; from += 256) {
      byte[] piece = Arrays.copyOfRange(JPEG, from, Math.min(JPEG.length, from + 256));
      Files.write(file, piece, StandardOpenOption.CREATE, StandardOpenOption.APPEND);
      assertNull(inbox.poll(5, TimeUnit.MILLISECONDS), "it is not yet whole");
    }
    assertEquals("a.jpg", nextFile());
    nothingMore();
  }

  @Test
  void aFileRenamedIntoPlaceIsNoticedOnce() throws Exception {
    Path part = Files.write(folder.resolve(".a.jpg.part"), JPEG);
    nothingMore();
    Files.move(part, folder.resolve("a.jpg"), StandardCopyOption.ATOMIC_MOVE);
    assertEquals("a.jpg", nextFile());
    nothingMore();
  }

  @Test
  void aBurstComesWhole() throws Exception {
    Set<String> wanted = new HashSet<>();
    for (int i = 0; i < 60; i++) {
      Files.write(folder.resolve("b" + i + ".jpg"), JPEG);
      wanted.add("b" + i + ".jpg");
    }
    while (!wanted.isEmpty()) {
      String file = nextFile();
      assertTrue(wanted.remove(file), file);
    }
    nothingMore();
  }

  @Test
  void amongThousandsThatAreKnownWhatIsNewOrRewrittenIsNoticed() throws Exception {
    watch.close();
    for (int i = 0; i < 4_000; i++) {
      Files.write(folder.resolve("old" + i + ".jpg"), JPEG);
    }
    watch(new HotFolder(folder, HotFolder.names(folder), Duration.ofMillis(200)).sparing());
    for (int i = 0; i < 5; i++) {
      Files.write(folder.resolve("new" + i + ".jpg"), JPEG);
      assertEquals("new" + i + ".jpg", nextFile());
    }
    // Only a file event tells of this one so soon: its turn is minutes away.
    Files.write(folder.resolve("old2000.jpg"), Pictures.jpeg(64, 48, 2));
    assertEquals("old2000.jpg", nextFile());
    nothingMore();
  }

  @Test
  void aFolderThatGoesAndComesBackIsWatchedAgain() throws Exception {
    Path elsewhere = Files.move(folder, home.resolve("elsewhere"));
    assertInstanceOf(Input.FolderLost.class, next());
    Files.move(elsewhere, folder);
    assertInstanceOf(Input.FolderReturned.class, next());
    Files.write(folder.resolve("c.jpg"), JPEG);
    assertEquals("c.jpg", nextFile());
  }

  @Test
  void anInboxThatThrowsDoesNotEndTheWatch() throws Exception {
    watch.close();
    BlockingQueue<Input> second = new LinkedBlockingQueue<>();
    FolderScan scan =
        new FolderScan(
            new HotFolder(folder, Set.of(), Duration.ofMillis(100)),
            new Pairing(Measure.JPEG, Pairing.WAIT),
            new FrameReader(),
            Optional.empty());
    watch =
        FolderWatch.start(
            scan,
            InstantSource.system(),
            input -> {
              second.add(input);
              throw new IllegalStateException("the inbox is closed");
            });
    assertNotNull(second.poll(20, TimeUnit.SECONDS));
    Files.write(folder.resolve("d.jpg"), JPEG);
    assertNotNull(second.poll(20, TimeUnit.SECONDS));
  }

  @Test
  void closingIsQuickAndFinal() throws Exception {
    long before = System.nanoTime();
    watch.close();
    assertFalse(System.nanoTime() - before > TimeUnit.SECONDS.toNanos(3), "close took too long");
    Files.write(folder.resolve("late.jpg"), JPEG);
    nothingMore();
  }
}

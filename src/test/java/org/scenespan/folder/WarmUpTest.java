package org.scenespan.folder;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.TimeUnit;
import java.util.function.BooleanSupplier;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.scenespan.folder.jpeg.BaselineDecoder;
import org.scenespan.folder.jpeg.RowSink;
import org.scenespan.frame.FrameMeasure;

class WarmUpTest {
  private static final Instant NOW = Instant.parse("2026-05-04T03:00:00Z");

  @TempDir Path folder;

  private static void until(BooleanSupplier done) throws InterruptedException {
    long end = System.nanoTime() + TimeUnit.SECONDS.toNanos(60);
    while (!done.getAsBoolean() && System.nanoTime() < end) {
      Thread.onSpinWait();
    }
    assertTrue(done.getAsBoolean());
  }

  @Test
  void itsFrameTakesTheQuickPathAndHasEveryKindOfPixel() throws Exception {
    try (Bytes bytes = Bytes.of(new MemoryChannel(WarmUp.frame()))) {
      JpegFile file = JpegFile.read(bytes);
      RowSink nobody =
          new RowSink() {
            @Override
            public void begin(int width, int height) {}

            @Override
            public Part part() {
              return new Part() {
                @Override
                public void row(int y, int[] pixels) {}

                @Override
                public void above(int y, int[] pixels) {}
              };
            }
          };
      Optional<String> refused =
          new BaselineDecoder(1)
              .decode(
                  file.decoderHeader(),
                  file.start(),
                  (int) file.structure().firstScan(),
                  (int) file.structure().end(),
                  file::read,
                  nobody);
      assertEquals(Optional.empty(), refused);
      FrameMeasure measure = new FrameReader().measured(Path.of("a.jpg"), bytes, true).measure();
      assertTrue(measure.clipped().combined() > 1000 && measure.crushed().combined() > 1000);
    }
  }

  @Test
  void isBounded() throws Exception {
    WarmUp warmUp = new WarmUp();
    long start = System.nanoTime();
    warmUp.begin(Duration.ZERO, InstantSource.system());
    until(() -> !warmUp.isRunning());
    assertTrue(warmUp.frames() >= 1 && warmUp.frames() <= WarmUp.MOST_FRAMES);
    assertTrue(System.nanoTime() - start < WarmUp.LONGEST.plusSeconds(30).toNanos());
  }

  @Test
  void beginsOnceAndNotAfterARealFrame() throws Exception {
    HotFolder hot = new HotFolder(folder, Set.of(), Duration.ZERO);
    FolderScan scan =
        new FolderScan(
            hot, new Pairing(Measure.JPEG, Pairing.WAIT), new FrameReader(), Optional.empty());
    scan.warmUp().begin(Duration.ofHours(1), InstantSource.system());
    assertTrue(scan.warmUp().isRunning());
    Files.write(folder.resolve("A.JPG"), Pictures.jpeg(64, 48, 1));
    scan.scan(NOW);
    scan.scan(NOW.plusSeconds(1));
    assertFalse(scan.warmUp().isRunning());
    scan.warmUp().begin(Duration.ZERO, InstantSource.system());
    assertFalse(scan.warmUp().isRunning());
    assertEquals(0, scan.warmUp().frames());
  }
}

package org.scenespan.rehearsal;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.io.IOException;
import java.time.Duration;
import java.util.concurrent.Callable;
import java.util.concurrent.FutureTask;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;

@Timeout(20)
class CableTest {
  private final Cable cable = new Cable();

  private static <T> FutureTask<T> started(Callable<T> work) {
    FutureTask<T> task = new FutureTask<>(work);
    Thread thread = new Thread(task, "cable test");
    thread.setDaemon(true);
    thread.start();
    return task;
  }

  @Test
  void whatOneEndWritesTheOtherReads() throws Exception {
    cable.host().write(new byte[] {1, 2, -1});
    assertEquals(1, cable.device().input().read());
    byte[] rest = new byte[8];
    assertEquals(2, cable.device().read(rest, Duration.ofSeconds(10)));
    assertArrayEquals(new byte[] {2, -1, 0, 0, 0, 0, 0, 0}, rest);
    cable.device().output().write(9);
    assertEquals(9, cable.host().input().read());
  }

  @Test
  void nothingInTimeIsNoEnd() throws Exception {
    assertEquals(0, cable.host().read(new byte[4], Duration.ZERO));
    assertEquals(0, cable.host().read(new byte[4], Duration.ofMillis(1)));
  }

  @Test
  void moreThanTheCableHoldsGoesThroughInOrder() throws Exception {
    byte[] sent = new byte[100_000];
    for (int i = 0; i < sent.length; i++) {
      sent[i] = (byte) (i * 31 >> 3);
    }
    FutureTask<byte[]> read = started(() -> cable.device().input().readNBytes(sent.length));
    cable.host().output().write(sent);
    assertArrayEquals(sent, read.get());
  }

  @Test
  void pullingEndsReadersAndWriters() throws Exception {
    FutureTask<Integer> reader = started(() -> cable.host().input().read());
    FutureTask<Integer> writer =
        started(
            () -> {
              cable.host().write(new byte[100_000]);
              return 0;
            });
    cable.device().close();
    assertEquals(-1, reader.get());
    assertThrows(Exception.class, writer::get);
    assertThrows(IOException.class, () -> cable.device().write(new byte[1]));
    assertEquals(-1, cable.device().read(new byte[1], Duration.ofSeconds(10)));
  }
}

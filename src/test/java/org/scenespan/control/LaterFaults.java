package org.scenespan.control;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Duration;
import java.time.Instant;
import java.util.SplittableRandom;
import org.scenespan.rehearsal.Faults;

/**
 * What else happens to a lapse in the night, drawn from a seed: the machine sleeps, the disk under
 * frames, previews and records is full, the camera stops answering. Each is off in half of the
 * seeds.
 */
final class LaterFaults {
  private static final double MOST_A_STEP = 0.01;

  private final SplittableRandom random;
  private final boolean rig;
  private final double sleeps;
  private final double fills;
  private final double dies;
  private Instant free = Instant.MIN;
  private Instant answers = Instant.MIN;

  LaterFaults(long seed) {
    random = new SplittableRandom(seed * 104_729);
    rig = random.nextBoolean();
    sleeps = chance();
    fills = chance();
    dies = chance();
  }

  private double chance() {
    return random.nextBoolean() ? 0 : MOST_A_STEP * random.nextDouble();
  }

  boolean checksRig() {
    return rig;
  }

  /** The camera writes nothing while it does not answer; else the other faults have their way. */
  Faults before(Faults others) {
    return new Faults() {
      @Override
      public ReplyFate onReply(String reply, Instant now) {
        return others.onReply(reply, now);
      }

      @Override
      public FrameFate onFrame(int shot, Instant now) {
        FrameFate fate = others.onFrame(shot, now);
        return now.isBefore(answers) ? new FrameFate.Lose() : fate;
      }

      @Override
      public Duration clockError(Instant now) {
        return others.clockError(now);
      }

      @Override
      public void onFile(int shot, byte[] content) {
        others.onFile(shot, content);
      }
    };
  }

  private Duration drawn(Duration most) {
    return Duration.ofMillis(1 + random.nextLong(most.toMillis()));
  }

  void happen(VirtualRun run, Instant now, Duration interval, Path filler) throws IOException {
    if (random.nextDouble() < sleeps) {
      run.sleep(drawn(interval.multipliedBy(4)));
    }
    if (random.nextDouble() < dies) {
      answers = now.plus(drawn(interval.multipliedBy(6)));
    }
    if (random.nextDouble() < fills && !Files.exists(filler)) {
      fill(filler);
      free = now.plus(drawn(interval.multipliedBy(6)));
    }
  }

  private static void fill(Path filler) throws IOException {
    byte[] block = new byte[1 << 20];
    int size = block.length;
    try (OutputStream out =
        Files.newOutputStream(filler, StandardOpenOption.CREATE, StandardOpenOption.APPEND)) {
      while (size > 0) {
        try {
          out.write(block, 0, size);
        } catch (IOException full) {
          size /= 8;
        }
      }
    }
  }

  void restore(Path filler, boolean over, Instant now) throws IOException {
    if (over) {
      answers = Instant.MIN;
    }
    if (Files.exists(filler) && (over || !now.isBefore(free))) {
      Files.delete(filler);
    }
  }
}

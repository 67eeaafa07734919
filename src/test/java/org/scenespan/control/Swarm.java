package org.scenespan.control;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.scenespan.rehearsal.Faults;

/**
 * Faults drawn from a seed: each kind is off in half of the seeds, and how often it strikes is
 * drawn too. It remembers which shot each frame was really taken for.
 */
final class Swarm implements Faults {
  private final SplittableRandom random;
  private final double answerLost;
  private final double answerLate;
  private final double answerDoubled;
  private final double answerGarbled;
  private final double frameLost;
  private final double frameLate;
  private final Duration answerDelay;
  private final Duration frameDelay;
  private final List<Integer> truth = new ArrayList<>();
  private boolean begun;
  private boolean over;

  /**
   * @param longestAnswer the delays of answers straddle this
   * @param longestFrame the delays of frames straddle this
   */
  Swarm(long seed, Duration longestAnswer, Duration longestFrame) {
    random = new SplittableRandom(seed);
    answerLost = chance();
    answerLate = chance();
    answerDoubled = chance();
    answerGarbled = chance();
    frameLost = chance();
    frameLate = chance();
    answerDelay = longestAnswer.multipliedBy(2);
    frameDelay = longestFrame.multipliedBy(3);
  }

  private double chance() {
    return random.nextBoolean() ? 0 : 0.35 * random.nextDouble() * random.nextDouble();
  }

  /** From now on things go wrong. */
  void begin() {
    begun = true;
  }

  /** From now on nothing goes wrong any more. */
  void end() {
    over = true;
  }

  /** The shot that the frame was taken for whose file has this number, 1 and up. */
  int truth(int fileNumber) {
    return truth.get(fileNumber - 1);
  }

  int framesTaken() {
    return truth.size();
  }

  boolean strikes(double chance) {
    return begun && !over && random.nextDouble() < chance;
  }

  private Duration drawn(Duration most) {
    return Duration.ofMillis(1 + random.nextLong(most.toMillis()));
  }

  @Override
  public ReplyFate onReply(String reply, Instant now) {
    if (strikes(answerLost)) {
      return random.nextBoolean() ? new ReplyFate.Lose() : new ReplyFate.Cut();
    }
    if (strikes(answerLate)) {
      return new ReplyFate.Delay(drawn(answerDelay));
    }
    if (strikes(answerDoubled)) {
      return new ReplyFate.Repeat();
    }
    return strikes(answerGarbled) ? new ReplyFate.Garble() : new ReplyFate.Deliver();
  }

  @Override
  public FrameFate onFrame(int shot, Instant now) {
    truth.add(shot);
    if (strikes(frameLost)) {
      return new FrameFate.Lose();
    }
    return strikes(frameLate) ? new FrameFate.Delay(drawn(frameDelay)) : new FrameFate.Deliver();
  }
}

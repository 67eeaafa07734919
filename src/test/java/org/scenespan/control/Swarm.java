package org.scenespan.control;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SplittableRandom;
import org.scenespan.rehearsal.Faults;
import org.scenespan.rehearsal.SimulatedRig;

/**
 * Faults drawn from a seed: each kind is off in half of the seeds, and how often it strikes is
 * drawn too. It remembers which shot each file was really taken for.
 */
final class Swarm implements Faults {
  /** What happens to the parts from outside, drawn before every step. */
  enum Mishap {
    CABLE_OUT,
    FOLDER_GONE,
    DISK_FULL,
    HOLD,
    PRESSES,
    NEW_CARD
  }

  /** A mishap a step, at most; a session has some hundred steps. */
  private static final double MOST_MISHAPS_A_STEP = 0.02;

  private final SplittableRandom random;
  private final double answerLost;
  private final double answerLate;
  private final double answerDoubled;
  private final double answerGarbled;
  private final double frameLost;
  private final double frameLate;
  private final double frameHalved;
  private final double frameEmpty;
  private final double frameAlone;
  private final double frameRepeated;
  private final double clockJumps;
  private final double drift;
  private final double[] mishaps = new double[Mishap.values().length];
  private final Duration answerDelay;
  private final Duration frameDelay;
  private final List<byte[]> contents = new ArrayList<>();
  private final Map<Integer, Integer> truth = new HashMap<>();
  private final Map<Integer, Integer> released = new HashMap<>();
  private final List<Instant> strikes = new ArrayList<>();
  private Duration clockError = Duration.ZERO;
  private Optional<Instant> firstOpened = Optional.empty();
  private int framesPerRelease = 1;
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
    frameHalved = chance();
    frameEmpty = chance();
    frameAlone = chance();
    frameRepeated = chance();
    clockJumps = chance();
    // A quartz watch in the cold is off by 20 parts in a million; ten times that.
    drift = random.nextBoolean() ? 0 : 2e-4 * (2 * random.nextDouble() - 1);
    for (int i = 0; i < mishaps.length; i++) {
      mishaps[i] = random.nextBoolean() ? 0 : MOST_MISHAPS_A_STEP * random.nextDouble();
    }
    answerDelay = longestAnswer.multipliedBy(2);
    frameDelay = longestFrame.multipliedBy(3);
  }

  private double chance() {
    return random.nextBoolean() ? 0 : 0.35 * random.nextDouble() * random.nextDouble();
  }

  /** How many frames a release brings. */
  void expect(int frames) {
    framesPerRelease = frames;
  }

  /** From now on things go wrong. */
  void begin() {
    begun = true;
  }

  /** From now on nothing goes wrong any more. */
  void end() {
    over = true;
  }

  /** The shot that a file with this content was taken for; nothing if no camera wrote it. */
  Optional<Integer> truth(byte[] content) {
    return Optional.ofNullable(truth.get(Arrays.hashCode(content)));
  }

  /** Whether the camera may have left a file like this: one it wrote, or the beginning of it. */
  boolean isCameras(byte[] content) {
    return content.length == 0
        || truth(content).isPresent()
        || contents.stream().anyMatch(whole -> Arrays.mismatch(whole, content) == content.length);
  }

  /** Whether the camera was released for a shot. */
  boolean isReleased(int shot) {
    return released.containsKey(shot);
  }

  /** How often something went wrong since then. */
  long strikesSince(Instant then) {
    return strikes.stream().filter(at -> !at.isBefore(then)).count();
  }

  /** What happens from outside at this step, if anything does. */
  Optional<Mishap> mishap(Instant now) {
    for (Mishap mishap : Mishap.values()) {
      if (strikes(mishaps[mishap.ordinal()], now)) {
        return Optional.of(mishap);
      }
    }
    return Optional.empty();
  }

  private boolean strikes(double chance, Instant now) {
    boolean struck = begun && !over && random.nextDouble() < chance;
    if (struck) {
      strikes.add(now);
    }
    return struck;
  }

  /** Something between a millisecond and the most. */
  Duration drawn(Duration most) {
    return Duration.ofMillis(1 + random.nextLong(most.toMillis()));
  }

  /** The camera's clock changes its zone or is put right, or the host's is. */
  void jumpClock() {
    Duration zone = Duration.ofMinutes(15L * random.nextLong(-56, 57));
    Duration wrong = Duration.ofMillis(random.nextLong(-10_000_000, 10_000_000));
    clockError = clockError.plus(random.nextInt(4) == 0 ? wrong : zone);
  }

  @Override
  public ReplyFate onReply(String reply, Instant now) {
    if (strikes(answerLost, now)) {
      return random.nextBoolean() ? new ReplyFate.Lose() : new ReplyFate.Cut();
    }
    if (strikes(answerLate, now)) {
      return new ReplyFate.Delay(drawn(answerDelay));
    }
    if (strikes(answerDoubled, now)) {
      return new ReplyFate.Repeat();
    }
    return strikes(answerGarbled, now) ? new ReplyFate.Garble() : new ReplyFate.Deliver();
  }

  @Override
  public FrameFate onFrame(int shot, Instant now) {
    if (shot != SimulatedRig.BY_HAND && released.merge(shot, 1, Integer::sum) > framesPerRelease) {
      throw new AssertionError("shot " + shot + " was released twice");
    }
    if (strikes(clockJumps, now)) {
      jumpClock();
    }
    if (strikes(frameLost, now)) {
      return new FrameFate.Lose();
    }
    if (strikes(frameHalved, now)) {
      return new FrameFate.Halve();
    }
    if (strikes(frameEmpty, now)) {
      return new FrameFate.Empty();
    }
    if (strikes(frameAlone, now)) {
      return new FrameFate.OneOnly(random.nextBoolean());
    }
    if (strikes(frameRepeated, now)) {
      return new FrameFate.Repeat(drawn(frameDelay), random.nextBoolean());
    }
    return strikes(frameLate, now)
        ? new FrameFate.Delay(drawn(frameDelay))
        : new FrameFate.Deliver();
  }

  @Override
  public Duration clockError(Instant opens) {
    Instant first = firstOpened.orElse(opens);
    firstOpened = Optional.of(first);
    long millis = Math.round(drift * Duration.between(first, opens).toMillis());
    return clockError.plusMillis(millis);
  }

  @Override
  public void onFile(int shot, byte[] content) {
    contents.add(content);
    truth.put(Arrays.hashCode(content), shot);
  }
}

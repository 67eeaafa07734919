package org.scenespan.control;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;
import java.util.function.Predicate;
import org.scenespan.folder.FolderScan;
import org.scenespan.folder.FolderWatch;
import org.scenespan.folder.FrameReader;
import org.scenespan.folder.HotFolder;
import org.scenespan.folder.Measure;
import org.scenespan.folder.Pairing;
import org.scenespan.frame.FrameReading;
import org.scenespan.light.Aperture;
import org.scenespan.light.CameraRange;
import org.scenespan.light.Exposure;
import org.scenespan.light.Rounding;
import org.scenespan.light.Shutter;
import org.scenespan.session.Input;
import org.scenespan.trigger.Order;
import org.scenespan.trigger.PortOpener;
import org.scenespan.trigger.Profile;
import org.scenespan.trigger.TriggerEdge;

/** Fires a few frames to see what a trigger and its camera really do. */
public final class FireTest {
  /** Longer than any profile's order with its retries is sensible, beyond the exposure. */
  private static final Duration ANSWER_LIMIT = Duration.ofSeconds(60);

  /** From the end of an exposure to its file. */
  private static final Duration FRAME_LIMIT = Duration.ofSeconds(15);

  private static final int MOST_INPUTS = 1024;

  /** The times that are tried, in turn: short enough to bear, and apart from each other. */
  private static final double[] SECONDS = {0.125, 0.5, 1};

  /** The aperture that is tried where it can be set: any will do. */
  private static final Aperture USUAL = Aperture.ofNominal(8);

  /** Something that came in, and when. */
  private record Stamped(Input input, Instant at) {}

  /**
   * One shot.
   *
   * @param commanded what was asked for
   * @param beyond from the release to the answer, less the exposure
   * @param exposed how long the trigger says that it exposed
   * @param taken what the frame says that it was taken with
   * @param arrival from the answer to the frame
   * @param trouble what went wrong; empty if nothing
   * @param firedSurely whether the trigger says that it released
   */
  public record Shot(
      Exposure commanded,
      Optional<Duration> beyond,
      Optional<Duration> exposed,
      Optional<Exposure> taken,
      Optional<Duration> arrival,
      String trouble,
      boolean firedSurely) {}

  private final Profile profile;
  private final InstantSource clock = SteadyClock.ofSystem();
  private final BlockingQueue<Stamped> inbox = new ArrayBlockingQueue<>(MOST_INPUTS);

  private FireTest(Profile profile) {
    this.profile = profile;
  }

  /** The exposures that so many frames try, within what can be set. */
  public static List<Exposure> exposures(CameraRange range, int frames) {
    Aperture aperture = USUAL;
    if (aperture.compareTo(range.widest()) < 0) {
      aperture = range.widest();
    } else if (aperture.compareTo(range.smallest()) > 0) {
      aperture = range.smallest();
    }
    List<Exposure> exposures = new ArrayList<>();
    for (int i = 0; i < frames; i++) {
      Shutter shutter = range.shutters().at(SECONDS[i % SECONDS.length], Rounding.NEAREST);
      exposures.add(new Exposure(shutter, aperture, range.lowestIso()));
    }
    return exposures;
  }

  /**
   * Greets the trigger and takes the frames, one after the other; ends at the first that the
   * trigger does not confirm.
   *
   * @param port as {@link PortOpener#of} takes it
   * @param folder where the frames come to; without it none is waited for
   * @param told is given each shot as it is done
   * @return all shots; none if the trigger did not answer
   * @throws IOException if the port cannot be opened or the folder not be listed
   */
  public static List<Shot> run(
      Profile profile,
      String port,
      List<Exposure> exposures,
      Optional<Path> folder,
      Consumer<Shot> told)
      throws IOException, InterruptedException {
    FireTest test = new FireTest(profile);
    Optional<FolderWatch> watch = Optional.empty();
    if (folder.isPresent()) {
      FolderScan scan =
          new FolderScan(
              new HotFolder(folder.get(), HotFolder.names(folder.get()), HotFolder.QUIET),
              new Pairing(Measure.JPEG, Pairing.WAIT),
              new FrameReader(),
              Optional.empty());
      watch = Optional.of(FolderWatch.start(scan, test.clock, test::deliver));
    }
    try (TriggerEdge edge =
        TriggerEdge.open(profile, PortOpener.of(port, profile), test.clock, test::deliver)) {
      return test.run(edge, exposures, folder.isPresent(), told);
    } finally {
      watch.ifPresent(FolderWatch::close);
    }
  }

  private void deliver(Input input) {
    inbox.offer(new Stamped(input, clock.instant()));
  }

  private List<Shot> run(
      TriggerEdge edge, List<Exposure> exposures, boolean frames, Consumer<Shot> told)
      throws InterruptedException {
    List<Shot> shots = new ArrayList<>();
    edge.perform(new Order.Greet());
    Optional<Stamped> greeting =
        await(
            input -> input instanceof Input.TriggerGreeted || input instanceof Input.TriggerLost,
            ANSWER_LIMIT);
    if (greeting.isEmpty() || greeting.get().input() instanceof Input.TriggerLost) {
      return shots;
    }
    for (Exposure exposure : exposures) {
      Shot shot = fire(edge, shots.size() + 1, exposure, frames);
      shots.add(shot);
      told.accept(shot);
      if (!shot.firedSurely()) {
        break;
      }
    }
    return shots;
  }

  private Shot fire(TriggerEdge edge, int number, Exposure exposure, boolean frames)
      throws InterruptedException {
    // A trigger that only releases answers when it has pressed.
    Duration time =
        profile.isReleaseOnly()
            ? Duration.ZERO
            : Duration.ofNanos(Math.round(exposure.shutter().seconds() * 1e9));
    edge.perform(new Order.Fire(number, exposure));
    Optional<Stamped> answer = await(FireTest::isAnswer, ANSWER_LIMIT.plus(time));
    if (answer.isEmpty() || !(answer.get().input() instanceof Input.ReleaseConfirmed confirmed)) {
      String trouble = answer.map(FireTest::trouble).orElse("the trigger did not answer");
      return new Shot(
          exposure,
          Optional.empty(),
          Optional.empty(),
          Optional.empty(),
          Optional.empty(),
          trouble,
          false);
    }
    Instant answered = answer.get().at();
    Optional<Duration> beyond =
        edge.pressedAt().map(pressed -> Duration.between(pressed, answered).minus(time));
    Optional<Stamped> frame =
        frames
            ? await(input -> input instanceof Input.FrameMeasured, FRAME_LIMIT)
            : Optional.empty();
    Optional<Exposure> taken =
        frame.flatMap(
            arrived -> {
              FrameReading reading = ((Input.FrameMeasured) arrived.input()).reading();
              return reading.metadata().exposure();
            });
    String trouble =
        frames && frame.isEmpty()
            ? "no frame came within " + FRAME_LIMIT.toSeconds() + " s"
            : frames && taken.isEmpty() ? "the frame does not say how it was taken" : "";
    return new Shot(
        exposure,
        beyond,
        confirmed.exposed(),
        taken,
        frame.map(arrived -> Duration.between(answered, arrived.at())),
        trouble,
        true);
  }

  private static boolean isAnswer(Input input) {
    return input instanceof Input.ReleaseConfirmed
        || input instanceof Input.ReleaseRefused
        || input instanceof Input.ReleaseUnconfirmed;
  }

  private static String trouble(Stamped answer) {
    if (answer.input() instanceof Input.ReleaseRefused refused) {
      return refused.reason();
    }
    return answer.input() instanceof Input.ReleaseUnconfirmed unconfirmed
        ? unconfirmed.reason()
        : "";
  }

  /** The next input of a kind; others are passed over. */
  private Optional<Stamped> await(Predicate<Input> wished, Duration longest)
      throws InterruptedException {
    Instant until = clock.instant().plus(longest);
    for (Duration left = longest;
        !left.isNegative();
        left = Duration.between(clock.instant(), until)) {
      Stamped next = inbox.poll(left.toMillis() + 1, TimeUnit.MILLISECONDS);
      if (next != null && wished.test(next.input())) {
        return Optional.of(next);
      }
    }
    return Optional.empty();
  }

  /**
   * What the shots come to; empty if none was confirmed.
   *
   * @param shots from {@link #run}
   */
  public static Optional<Profile.Measured> measured(Profile profile, List<Shot> shots) {
    List<Double> beyond =
        shots.stream().flatMap(shot -> shot.beyond().stream()).map(FireTest::millis).toList();
    if (beyond.isEmpty()) {
      return Optional.empty();
    }
    double mean = mean(beyond);
    double least = beyond.stream().mapToDouble(Double::doubleValue).min().orElseThrow();
    double most = beyond.stream().mapToDouble(Double::doubleValue).max().orElseThrow();
    List<Double> errors = shots.stream().flatMap(shot -> error(profile, shot).stream()).toList();
    return Optional.of(
        new Profile.Measured(
            beyond.size(),
            Math.max(0, tenth(mean)),
            tenth(most - least),
            errors.isEmpty() ? Optional.empty() : Optional.of(tenth(mean(errors)))));
  }

  /**
   * How many milliseconds longer an exposure was than commanded: by the trigger's own time stamps,
   * or on bulb by the frame's metadata. A camera that times by itself only repeats its engraving.
   */
  private static Optional<Double> error(Profile profile, Shot shot) {
    boolean bulb = profile.kind() != Profile.Kind.LINE && !profile.isReleaseOnly();
    double commanded = shot.commanded().shutter().seconds() * 1e3;
    if (shot.exposed().isPresent()) {
      return Optional.of(millis(shot.exposed().get()) - commanded);
    }
    return bulb
        ? shot.taken().map(taken -> taken.shutter().seconds() * 1e3 - commanded)
        : Optional.empty();
  }

  private static double millis(Duration time) {
    return time.toNanos() / 1e6;
  }

  private static double mean(List<Double> values) {
    return values.stream().mapToDouble(Double::doubleValue).average().orElseThrow();
  }

  private static double tenth(double value) {
    return Math.rint(value * 10) / 10;
  }
}

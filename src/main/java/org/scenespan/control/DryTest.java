package org.scenespan.control;

import java.io.IOException;
import java.time.Duration;
import java.util.Optional;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.TimeUnit;
import org.scenespan.light.Ev;
import org.scenespan.session.Input;
import org.scenespan.trigger.Order;
import org.scenespan.trigger.PortOpener;
import org.scenespan.trigger.Profile;
import org.scenespan.trigger.TriggerEdge;

/** Talks to a trigger without firing. */
public final class DryTest {
  /** Longer than any profile's greeting with its retries is sensible. */
  private static final Duration LONGEST = Duration.ofSeconds(60);

  private static final int MOST_ANSWERS = 16;

  /**
   * What came of it.
   *
   * @param identity what the trigger calls itself; absent if it did not answer
   * @param metered its meter's reading; absent if it has none or did not answer
   * @param trouble why something is absent; empty if nothing went wrong
   */
  public record Result(Optional<String> identity, Optional<Ev> metered, String trouble) {}

  private DryTest() {}

  /**
   * @throws IOException if the port cannot be opened
   */
  public static Result run(Profile profile, String port) throws IOException, InterruptedException {
    BlockingQueue<Input> answers = new ArrayBlockingQueue<>(MOST_ANSWERS);
    try (TriggerEdge edge =
        TriggerEdge.open(
            profile, PortOpener.of(port, profile), SteadyClock.ofSystem(), answers::offer)) {
      edge.perform(new Order.Greet());
      Input greeting = answers.poll(LONGEST.toMillis(), TimeUnit.MILLISECONDS);
      if (!(greeting instanceof Input.TriggerGreeted greeted)) {
        return new Result(Optional.empty(), Optional.empty(), trouble(greeting));
      }
      if (profile.meter().isEmpty()) {
        return new Result(Optional.of(greeted.identity()), Optional.empty(), "");
      }
      edge.perform(new Order.ReadMeter());
      Input metered = answers.poll(LONGEST.toMillis(), TimeUnit.MILLISECONDS);
      return metered instanceof Input.SceneMetered scene
          ? new Result(Optional.of(greeted.identity()), Optional.of(scene.ev()), "")
          : new Result(Optional.of(greeted.identity()), Optional.empty(), trouble(metered));
    }
  }

  private static String trouble(Input input) {
    if (input instanceof Input.TriggerLost lost) {
      return lost.reason();
    }
    return input instanceof Input.MeterUnread unread
        ? unread.reason()
        : "no answer within " + LONGEST.toSeconds() + " s";
  }
}

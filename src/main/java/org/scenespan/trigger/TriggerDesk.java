package org.scenespan.trigger;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayDeque;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Queue;
import java.util.function.Consumer;
import org.scenespan.session.Input;

/**
 * Keeps a trigger at hand: does orders one after the other, hands over what came of each, and when
 * the port goes away or a greeting stays without answer says so once, and then wants it opened and
 * greets again and again until the device is back. Asks for a sign of life where the profile has a
 * heartbeat, and hands over what the device says of its own accord. Stepped by its owner, who has
 * the port and the clock; not safe for use by several threads.
 */
public final class TriggerDesk {
  /** Orders that wait; a session gives one at a time. */
  static final int MAX_WAITING_ORDERS = 16;

  /** A device that talks without end is heard once in this time about each kind of thing. */
  static final Duration NOTICE_EVERY = Duration.ofSeconds(1);

  private final Dialogue dialogue;
  private final Optional<Duration> heartbeat;
  private final Duration reopenAfter;
  private final Consumer<Input> inputs;
  private final Queue<Order> orders = new ArrayDeque<>();
  private Optional<Order> current = Optional.empty();
  private Optional<String> away = Optional.empty();
  private boolean linked = true;
  private Instant reopenAt = Instant.MAX;
  private Instant nextBeat = Instant.MAX;
  private final Map<String, Instant> noticed = new HashMap<>();

  /**
   * A desk whose port is open; it does not greet by itself.
   *
   * @param reopenAfter how long to wait before a lost port is opened again
   * @param inputs is given what comes of each order
   */
  public TriggerDesk(Profile profile, Duration reopenAfter, Consumer<Input> inputs) {
    this.dialogue = new Dialogue(profile);
    this.heartbeat = profile.heartbeat().map(Profile.Heartbeat::every);
    this.reopenAfter = reopenAfter;
    this.inputs = inputs;
  }

  /**
   * Has an order done after those that wait. What comes of it is handed over as an input; when the
   * trigger is away, at the next step and as a failure.
   *
   * @throws IllegalStateException if too many orders wait already
   */
  public void perform(Order order) {
    if (orders.size() >= MAX_WAITING_ORDERS) {
      throw new IllegalStateException("more than " + MAX_WAITING_ORDERS + " orders wait");
    }
    orders.add(order);
  }

  /** Whether {@link #perform} takes one more order. */
  boolean hasRoom() {
    return orders.size() < MAX_WAITING_ORDERS;
  }

  /** Takes what the device said. */
  public void receive(byte[] bytes, Instant now) {
    if (linked) {
      dialogue.receive(bytes, now);
      notice(now);
      settle(now);
    }
  }

  /** Goes on with whatever is due. */
  public void tick(Instant now) {
    dialogue.tick(now);
    settle(now);
    while (!dialogue.isBusy() && !orders.isEmpty()) {
      Order order = orders.remove();
      if (away.isPresent()) {
        inputs.accept(
            TriggerInputs.of(order, new Outcome.Refused("the trigger is away: " + away.get())));
      } else {
        current = Optional.of(order);
        dialogue.begin(order, now);
        settle(now);
      }
    }
    if (linked && !dialogue.isBusy() && !now.isBefore(nextBeat)) {
      nextBeat = Instant.MAX;
      current = Optional.of(new Order.Beat());
      dialogue.begin(current.get(), now);
      settle(now);
    }
  }

  /** The contacts to close or open now, before anything is written. */
  public List<Switching> takeSwitchings() {
    return dialogue.takeSwitchings();
  }

  /** When the last release was put out, if there was one. */
  Optional<Instant> pressedAt() {
    return dialogue.pressedAt();
  }

  /** The owner goes away: puts out what closes a shutter that is open. */
  public void letGo() {
    dialogue.letGo();
  }

  /** What is to be written now; empty if nothing. */
  public byte[] takeOutput() {
    return dialogue.takeOutput();
  }

  /** When there is next something to do without any news. */
  public Optional<Instant> nextDue() {
    if (!linked) {
      return Optional.of(reopenAt);
    }
    return dialogue.isBusy() || nextBeat == Instant.MAX
        ? dialogue.nextDue()
        : Optional.of(nextBeat);
  }

  /** Whether the port is in use; if not, its owner closes it. */
  public boolean isLinked() {
    return linked;
  }

  /** Whether the port should be opened now. */
  public boolean wantsPort(Instant now) {
    return !linked && !now.isBefore(reopenAt);
  }

  /** The port is open again. */
  public void opened(Instant now) {
    linked = true;
    current = Optional.of(new Order.Greet());
    dialogue.begin(current.get(), now);
  }

  /** The port could not be opened. */
  public void notOpened(Instant now) {
    reopenAt = now.plus(reopenAfter);
  }

  /** The port went away in the middle of whatever it was. */
  public void lost(String reason, Instant now) {
    if (!linked) {
      return;
    }
    dialogue.abandon(reason);
    Optional<Outcome> outcome = dialogue.takeOutcome();
    if (outcome.isPresent() && current.isPresent() && isAsked(current.get())) {
      inputs.accept(TriggerInputs.of(current.get(), outcome.get()));
    }
    current = Optional.empty();
    leave(reason, now);
  }

  /** Whether somebody waits for what comes of it. */
  private static boolean isAsked(Order order) {
    return !(order instanceof Order.Greet || order instanceof Order.Beat);
  }

  /** Hands over what the device said of its own accord, but not more often than bearable. */
  private void notice(Instant now) {
    for (Replies.Heard heard : dialogue.takeNotices()) {
      Instant last = noticed.get(heard.kind());
      if (last == null || !now.isBefore(last.plus(NOTICE_EVERY))) {
        noticed.put(heard.kind(), now);
        inputs.accept(new Input.TriggerNoticed(heard.kind(), heard.text()));
      }
    }
  }

  /** Hands over an order's end. */
  private void settle(Instant now) {
    Optional<Outcome> outcome = dialogue.takeOutcome();
    if (outcome.isEmpty() || current.isEmpty()) {
      return;
    }
    Order order = current.get();
    current = Optional.empty();
    nextBeat = heartbeat.map(now::plus).orElse(Instant.MAX);
    if (order instanceof Order.Beat) {
      if (!(outcome.get() instanceof Outcome.Acknowledged)) {
        leave(TriggerInputs.reasonOf(outcome.get()), now);
      }
      return;
    }
    Input input = TriggerInputs.of(order, outcome.get());
    if (input instanceof Input.TriggerLost gone) {
      leave(gone.reason(), now);
    } else {
      if (input instanceof Input.TriggerGreeted) {
        away = Optional.empty();
      }
      inputs.accept(input);
    }
  }

  /** Gives the port up, says so if it was not known, and sets the time to try again. */
  private void leave(String reason, Instant now) {
    linked = false;
    nextBeat = Instant.MAX;
    reopenAt = now.plus(reopenAfter);
    if (away.isEmpty()) {
      away = Optional.of(reason);
      inputs.accept(new Input.TriggerLost(reason));
    }
  }
}

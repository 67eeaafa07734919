package org.scenespan.trigger;

import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * The conversation with a trigger about one order at a time, as a machine that is stepped: bytes
 * and the time go in, bytes, contacts and the outcome come out. It makes no difference how the
 * bytes are cut.
 *
 * <p>Settings and questions are asked again within the profile's retries; a release is sent once,
 * because a lost answer may hide a frame that was taken. A shutter that was opened is closed,
 * whatever else goes wrong, and the closing is asked again until it is answered. A line that is not
 * the answer awaited is passed over until the time-out, since it may be a late answer to something
 * earlier. Not safe for use by several threads.
 */
public final class Dialogue {
  private enum Phase {
    IDLE,
    SETTLING,
    WAITING,
    RESTING
  }

  private final Profile profile;
  private final Replies replies;
  private final Incoming incoming;
  private final Outgoing outgoing;
  private final Pressing pressing;
  private final Asking asking = new Asking();

  private Phase phase = Phase.IDLE;
  private List<Step> steps = List.of();
  private Map<String, String> sent = Map.of();
  private Map<String, String> captured = new LinkedHashMap<>();
  private int next;
  private Optional<Outcome> doubt = Optional.empty();
  private Instant due = Instant.MAX;
  private Instant settledAt = Instant.MIN;
  private Optional<Outcome> outcome = Optional.empty();

  public Dialogue(Profile profile) {
    this.profile = profile;
    Framing framing = new Framing(profile.line());
    this.replies = new Replies(profile, framing);
    this.incoming = new Incoming(profile, framing, replies);
    this.outgoing = new Outgoing(framing);
    this.pressing = new Pressing(profile);
  }

  /** Whether an order is under way. */
  public boolean isBusy() {
    return phase != Phase.IDLE;
  }

  /**
   * Starts an order. What arrived before is thrown away.
   *
   * @throws IllegalStateException if another is under way or its outcome was not taken
   */
  public void begin(Order order, Instant now) {
    if (isBusy() || outcome.isPresent()) {
      throw new IllegalStateException("an order is still under way");
    }
    // After a failure, the rest of a cut line may still come.
    if (now.isBefore(settledAt)) {
      incoming.skipPart();
    } else {
      incoming.dropPart();
    }
    outgoing.dropBytes();
    pressing.begin(order);
    asking.begin();
    sent = Map.of();
    if (order instanceof Order.Press press) {
      sent = Template.valuesOf(press.shot());
    }
    if (order instanceof Order.Fire fire) {
      sent = Template.valuesOf(fire.shot(), fire.exposure());
    }
    steps = Script.of(profile, order, sent);
    captured = new LinkedHashMap<>();
    if (order instanceof Order.Greet && profile.greeting().isEmpty()) {
      captured.put("identity", profile.name() + " (it cannot say so itself)");
    }
    doubt = Optional.empty();
    next = 0;
    if (steps.isEmpty()) {
      end(new Outcome.Refused("the profile " + profile.name() + " has no such command"));
    } else {
      proceed(now);
    }
  }

  /** Takes bytes that came from the device. */
  public void receive(byte[] bytes, Instant now) {
    for (byte value : bytes) {
      incoming.take(value).ifPresent(line -> heard(line, now));
    }
  }

  /** Lets time pass: to be called when {@link #nextDue()} has come, harmless at any time. */
  public void tick(Instant now) {
    if (!isBusy() || now.isBefore(due)) {
      return;
    }
    if (phase == Phase.SETTLING) {
      incoming.skipPart();
      proceed(now);
    } else if (phase == Phase.RESTING) {
      next++;
      proceed(now);
    } else {
      timeOut(now);
    }
  }

  /** When {@link #tick} has something to do, if an order is under way. */
  public Optional<Instant> nextDue() {
    return isBusy() ? Optional.of(due) : Optional.empty();
  }

  /** The bytes to write now, perhaps none; a second call gives only what came up since. */
  public byte[] takeOutput() {
    return outgoing.takeBytes();
  }

  /** The contacts to close or open now, in this order; a second call gives what came up since. */
  public List<Switching> takeSwitchings() {
    return outgoing.takeSwitchings();
  }

  /** What the device said without being asked, since the last call. */
  List<Replies.Heard> takeNotices() {
    return incoming.takeNotices();
  }

  /** How the order ended, once. */
  public Optional<Outcome> takeOutcome() {
    Optional<Outcome> taken = outcome;
    outcome = Optional.empty();
    return taken;
  }

  /** When the last release was put out, if there was one. */
  public Optional<Instant> pressedAt() {
    return pressing.last();
  }

  /** Gives up the order that is under way, if one is, because the line is gone. */
  public void abandon(String reason) {
    incoming.forget();
    outgoing.dropAll();
    settledAt = Instant.MIN;
    if (isBusy()) {
      fail(new Outcome.Lost(reason), reason);
    }
  }

  /** Puts out what closes a shutter that is open, because nobody will be there to do it later. */
  public void letGo() {
    if (isBusy() && pressing.isOpen()) {
      outgoing.dropBytes();
      steps.subList(closing(), steps.size()).forEach(outgoing::put);
      pressing.end();
    }
  }

  /** Takes steps up to the next one that awaits something, or ends the order. */
  private void proceed(Instant now) {
    while (next < steps.size()) {
      Step step = steps.get(next);
      // A shutter that is open cannot wait for the line.
      if (now.isBefore(settledAt) && step instanceof Step.Say && !pressing.isOpen()) {
        rest(Phase.SETTLING, settledAt);
        return;
      }
      if (step instanceof Step.Rest pause) {
        rest(Phase.RESTING, now.plus(pause.time()));
        return;
      }
      if (step instanceof Step.Expose && now.isBefore(pressing.exposedUntil())) {
        rest(Phase.RESTING, pressing.exposedUntil());
        return;
      }
      pressing.take(step.press(), now);
      outgoing.put(step);
      if (step instanceof Step.Say say) {
        asking.say(say);
        if (say.awaits() != Step.Awaits.NOTHING) {
          rest(Phase.WAITING, pressing.hearsFrom(now).plus(say.timeout()));
          return;
        }
      }
      next++;
    }
    end(doubt.orElseGet(() -> new Outcome.Acknowledged(captured)));
  }

  private void rest(Phase until, Instant then) {
    phase = until;
    due = then;
  }

  private int closing() {
    int index = next;
    while (steps.get(index).press() != Step.Press.CLOSE) {
      index++;
    }
    return index;
  }

  private void heard(Incoming.Said line, Instant now) {
    if (phase != Phase.WAITING) {
      return;
    }
    if (line.text().isPresent()) {
      answered((Step.Say) steps.get(next), line.text().get(), now);
    } else {
      asking.heardStrange(line.fault());
    }
  }

  private void answered(Step.Say step, String text, Instant now) {
    Optional<String> refused = replies.refusal(step, text);
    if (refused.isPresent() && pressing.hasPressed() && replies.isOfTheDevice(text)) {
      end(new Outcome.Garbled("after \"" + step.about() + "\" it said " + refused.get()));
      return;
    }
    if (refused.isPresent()) {
      refused(step, refused.get());
      return;
    }
    Optional<Map<String, String>> groups = replies.answer(step, text, sent);
    if (groups.isEmpty()) {
      asking.heardStrange(Replies.quoted(text));
      return;
    }
    if (step.awaits() == Step.Awaits.REPLY) {
      captured.putAll(groups.get());
    }
    if (asking.hasMissed(next)) {
      // The answer to an earlier asking may still be on its way.
      settledAt = now.plus(profile.settle());
    }
    asking.forgetStrange();
    next++;
    proceed(now);
  }

  private void refused(Step.Say step, String why) {
    String reason = "the trigger refused \"" + step.about() + "\": " + why;
    // Behind the opening, only the closing is left to be refused.
    end(pressing.isClosedAgain() ? new Outcome.Garbled(reason) : new Outcome.Refused(reason));
  }

  private void timeOut(Instant now) {
    Step.Say step = (Step.Say) steps.get(next);
    incoming.cutOff().ifPresent(asking::heardStrange);
    asking.missed(next);
    settledAt = now.plus(profile.settle());
    if (asking.again(step)) {
      next = step.restart();
      proceed(now);
    } else {
      String reason = asking.failure(step, pressing.exposesByItself());
      failed(
          asking.hasHeardStrange() ? new Outcome.Garbled(reason) : new Outcome.Lost(reason),
          reason,
          now);
    }
  }

  /** A shutter that may be open is closed before the order ends. */
  private void failed(Outcome failure, String reason, Instant now) {
    if (pressing.isOpen()) {
      doubt = Optional.of(failure);
      asking.forgetStrange();
      next = closing();
      proceed(now);
    } else {
      fail(failure, reason);
    }
  }

  /** Before the release was sent, a shot's failure is a refusal: it is sure that nothing fired. */
  private void fail(Outcome failure, String reason) {
    end(
        pressing.surelyReleasedNothing()
            ? new Outcome.Refused(reason + "; nothing was released")
            : failure);
  }

  private void end(Outcome ending) {
    phase = Phase.IDLE;
    pressing.end();
    due = Instant.MAX;
    outcome = Optional.of(ending);
  }
}

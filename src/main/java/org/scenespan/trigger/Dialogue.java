package org.scenespan.trigger;

import java.io.ByteArrayOutputStream;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

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
  /** Notices that wait to be taken; more are thrown away. */
  static final int MAX_NOTICES = 16;

  private enum Phase {
    IDLE,
    SETTLING,
    WAITING,
    RESTING
  }

  private final Profile profile;
  private final Framing framing;
  private final Replies replies;
  private final LineBuffer lines;
  private final ByteArrayOutputStream output = new ByteArrayOutputStream();
  private final List<Switching> switchings = new ArrayList<>();
  private final List<Replies.Heard> notices = new ArrayList<>();

  private Phase phase = Phase.IDLE;
  private boolean firing;
  private List<Step> steps = List.of();
  private Map<String, String> sent = Map.of();
  private Map<String, String> captured = new LinkedHashMap<>();
  private int next;
  private int exchange;
  private int attempt;
  private final Set<Integer> unanswered = new HashSet<>();
  private boolean pressed;
  private boolean isOpen;
  private Optional<Outcome> doubt = Optional.empty();
  private Duration exposure = Duration.ZERO;
  private Instant exposedUntil = Instant.MIN;

  /** A device that exposes by itself may hear nothing until then. */
  private Instant deafUntil = Instant.MIN;

  private Instant due = Instant.MAX;
  private Instant settledAt = Instant.MIN;
  private Optional<Instant> pressedAt = Optional.empty();
  private Optional<String> strange = Optional.empty();
  private Optional<Outcome> outcome = Optional.empty();

  public Dialogue(Profile profile) {
    this.profile = profile;
    this.framing = new Framing(profile.line());
    this.replies = new Replies(profile, framing);
    this.lines = new LineBuffer(profile.line());
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
      lines.skipPart();
    } else if (profile.notices().isEmpty()) {
      lines.forget();
    } // Else the part may be the beginning of a notice, whose rest alone could pass for an answer.
    output.reset();
    sent = Map.of();
    exposure = Duration.ZERO;
    exposedUntil = Instant.MIN;
    deafUntil = Instant.MIN;
    firing = order instanceof Order.Fire || order instanceof Order.Press;
    if (order instanceof Order.Press press) {
      sent = Template.valuesOf(press.shot());
    }
    if (order instanceof Order.Fire fire) {
      sent = Template.valuesOf(fire.shot(), fire.exposure());
      // A trigger that only releases answers when it has pressed, whatever the camera does then.
      exposure =
          profile.isReleaseOnly()
              ? Duration.ZERO
              : Duration.ofNanos(Math.round(fire.exposure().shutter().seconds() * 1e9));
    }
    steps = Script.of(profile, order, sent);
    captured = new LinkedHashMap<>();
    if (order instanceof Order.Greet && profile.greeting().isEmpty()) {
      captured.put("identity", profile.name() + " (it cannot say so itself)");
    }
    unanswered.clear();
    pressed = false;
    isOpen = false;
    doubt = Optional.empty();
    strange = Optional.empty();
    next = 0;
    exchange = -1;
    if (steps.isEmpty()) {
      end(new Outcome.Refused("the profile " + profile.name() + " has no such command"));
    } else {
      proceed(now);
    }
  }

  /** Takes bytes that came from the device. */
  public void receive(byte[] bytes, Instant now) {
    for (byte value : bytes) {
      lines.take(value).ifPresent(line -> heard(line, now));
    }
  }

  /** Lets time pass: to be called when {@link #nextDue()} has come, harmless at any time. */
  public void tick(Instant now) {
    if (!isBusy() || now.isBefore(due)) {
      return;
    }
    if (phase == Phase.SETTLING) {
      lines.skipPart();
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
    byte[] bytes = output.toByteArray();
    output.reset();
    return bytes;
  }

  /** The contacts to close or open now, in this order; a second call gives what came up since. */
  public List<Switching> takeSwitchings() {
    List<Switching> taken = List.copyOf(switchings);
    switchings.clear();
    return taken;
  }

  /** What the device said without being asked, since the last call. */
  List<Replies.Heard> takeNotices() {
    List<Replies.Heard> taken = List.copyOf(notices);
    notices.clear();
    return taken;
  }

  /** How the order ended, once. */
  public Optional<Outcome> takeOutcome() {
    Optional<Outcome> taken = outcome;
    outcome = Optional.empty();
    return taken;
  }

  /** When the last release was put out, if there was one. */
  public Optional<Instant> pressedAt() {
    return pressedAt;
  }

  /** Gives up the order that is under way, if one is, because the line is gone. */
  public void abandon(String reason) {
    lines.forget();
    output.reset();
    switchings.clear();
    settledAt = Instant.MIN;
    if (isBusy()) {
      fail(new Outcome.Lost(reason), reason);
    }
  }

  /** Puts out what closes a shutter that is open, because nobody will be there to do it later. */
  public void letGo() {
    if (isBusy() && isOpen) {
      output.reset();
      for (Step step : steps.subList(closing(), steps.size())) {
        put(step);
      }
      isOpen = false;
    }
  }

  /** Takes steps up to the next one that awaits something, or ends the order. */
  private void proceed(Instant now) {
    while (next < steps.size()) {
      Step step = steps.get(next);
      // A shutter that is open cannot wait for the line.
      if (now.isBefore(settledAt) && step instanceof Step.Say && !isOpen) {
        rest(Phase.SETTLING, settledAt);
        return;
      }
      if (step instanceof Step.Rest pause) {
        rest(Phase.RESTING, now.plus(pause.time()));
        return;
      }
      if (step instanceof Step.Expose && now.isBefore(exposedUntil)) {
        rest(Phase.RESTING, exposedUntil);
        return;
      }
      press(step.press(), now);
      put(step);
      if (step instanceof Step.Say say) {
        if (say.restart() != exchange) {
          exchange = say.restart();
          attempt = 1;
        }
        if (say.awaits() != Step.Awaits.NOTHING) {
          rest(Phase.WAITING, (now.isBefore(deafUntil) ? deafUntil : now).plus(say.timeout()));
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

  private void press(Step.Press press, Instant now) {
    switch (press) {
      case NOTHING -> {}
      case MIRROR -> pressed = true;
      case RELEASE -> {
        pressed = true;
        pressedAt = Optional.of(now);
        deafUntil = now.plus(profile.releaseLag()).plus(exposure);
      }
      case OPEN -> {
        pressed = true;
        pressedAt = Optional.of(now);
        isOpen = true;
        // The lag delays the opening and the closing alike.
        exposedUntil = now.plus(exposure);
      }
      case CLOSE -> isOpen = false;
    }
  }

  private void put(Step step) {
    if (step instanceof Step.Say say) {
      output.writeBytes(framing.encode(say.line()));
    } else if (step instanceof Step.Switch contact) {
      switchings.add(new Switching(contact.line(), contact.closed()));
    }
  }

  private int closing() {
    int index = next;
    while (steps.get(index).press() != Step.Press.CLOSE) {
      index++;
    }
    return index;
  }

  private void heard(LineBuffer.Line line, Instant now) {
    Optional<String> text = line.tooLong() ? Optional.empty() : framing.decode(line.text());
    Optional<Replies.Heard> notice = text.flatMap(replies::notice);
    if (notice.isPresent()) {
      if (notices.size() < MAX_NOTICES) {
        notices.add(notice.get());
      }
    } else if (phase == Phase.WAITING && line.tooLong()) {
      strange = Optional.of("a line longer than " + LineBuffer.MAX_LINE_BYTES + " bytes");
    } else if (phase == Phase.WAITING && text.isEmpty()) {
      strange = Optional.of(Replies.quoted(line.text()) + ", whose checksum is wrong");
    } else if (phase == Phase.WAITING) {
      answered((Step.Say) steps.get(next), text.get(), now);
    }
  }

  private void answered(Step.Say step, String text, Instant now) {
    Optional<String> refused = replies.refusal(step, text);
    if (refused.isPresent() && pressed && replies.isOfTheDevice(text)) {
      end(new Outcome.Garbled("after \"" + step.about() + "\" it said " + refused.get()));
      return;
    }
    if (refused.isPresent()) {
      refused(step, refused.get());
      return;
    }
    Optional<Map<String, String>> groups = replies.answer(step, text, sent);
    if (groups.isEmpty()) {
      strange = Optional.of(Replies.quoted(text));
      return;
    }
    if (step.awaits() == Step.Awaits.REPLY) {
      captured.putAll(groups.get());
    }
    if (unanswered.contains(next)) {
      // The answer to an earlier asking may still be on its way.
      settledAt = now.plus(profile.settle());
    }
    strange = Optional.empty();
    next++;
    proceed(now);
  }

  private void refused(Step.Say step, String why) {
    String reason = "the trigger refused \"" + step.about() + "\": " + why;
    // Behind the opening, only the closing is left to be refused.
    boolean closes = pressed && !isOpen && exposedUntil != Instant.MIN;
    end(closes ? new Outcome.Garbled(reason) : new Outcome.Refused(reason));
  }

  private void timeOut(Instant now) {
    Step.Say step = (Step.Say) steps.get(next);
    if (lines.hasPart()) {
      strange = Optional.of("the beginning of a line, " + Replies.quoted(lines.part()));
      lines.skipPart();
    }
    unanswered.add(next);
    settledAt = now.plus(profile.settle());
    if (attempt <= step.retries()) {
      attempt++;
      next = step.restart();
      proceed(now);
      return;
    }
    String asked = attempt == 1 ? "" : " (asked " + attempt + " times)";
    String since = pressed && deafUntil != Instant.MIN ? " of the exposure's end" : "";
    if (strange.isPresent()) {
      String reason = "\"" + step.line() + "\"" + asked + " was answered with " + strange.get();
      failed(new Outcome.Garbled(reason), reason, now);
    } else {
      String reason =
          "no answer to \""
              + step.line()
              + "\" within "
              + step.timeout().toMillis()
              + " ms"
              + since
              + asked;
      failed(new Outcome.Lost(reason), reason, now);
    }
  }

  /** A shutter that may be open is closed before the order ends. */
  private void failed(Outcome failure, String reason, Instant now) {
    if (isOpen) {
      doubt = Optional.of(failure);
      strange = Optional.empty();
      next = closing();
      proceed(now);
    } else {
      fail(failure, reason);
    }
  }

  /** Before the release was sent, a shot's failure is a refusal: it is sure that nothing fired. */
  private void fail(Outcome failure, String reason) {
    boolean surelyNotReleased = firing && !pressed;
    end(surelyNotReleased ? new Outcome.Refused(reason + "; nothing was released") : failure);
  }

  private void end(Outcome ending) {
    phase = Phase.IDLE;
    isOpen = false;
    due = Instant.MAX;
    outcome = Optional.of(ending);
  }
}

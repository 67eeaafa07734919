package org.scenespan.trigger;

import java.io.ByteArrayOutputStream;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * The conversation with a trigger about one order at a time, as a machine that is stepped: bytes
 * and the time go in, bytes and the outcome come out. It makes no difference how the bytes are cut.
 *
 * <p>Settings and questions are asked again within the profile's retries; a release is sent once,
 * because a lost answer may hide a frame that was taken. A line that is not the answer awaited is
 * passed over until the time-out, since it may be a late answer to something earlier. Not safe for
 * use by several threads.
 */
public final class Dialogue {
  /** How near a number that was given back must be to the one sent: a thousandth of it. */
  private static final double SAME = 1e-3;

  /** How much of a strange line is quoted, in characters. */
  private static final int MAX_QUOTE_LENGTH = 60;

  private enum Phase {
    IDLE,
    SETTLING,
    WAITING
  }

  private final Profile profile;
  private final LineBuffer lines;
  private final ByteArrayOutputStream output = new ByteArrayOutputStream();

  private Phase phase = Phase.IDLE;
  private boolean firing;
  private List<Script.Step> steps = List.of();
  private Map<String, String> sent = Map.of();
  private Map<String, String> captured = new LinkedHashMap<>();
  private int next;
  private int exchange;
  private int attempt;
  private final Set<Integer> unanswered = new HashSet<>();
  private boolean releaseSent;
  private Duration exposure = Duration.ZERO;
  private Instant exposedUntil = Instant.MIN;
  private Instant due = Instant.MAX;
  private Instant settledAt = Instant.MIN;
  private Optional<String> strange = Optional.empty();
  private Optional<Outcome> outcome = Optional.empty();

  public Dialogue(Profile profile) {
    this.profile = profile;
    this.lines = new LineBuffer(profile.line().replyTerminator());
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
    } else {
      lines.forget();
    }
    output.reset();
    sent = Map.of();
    exposure = Duration.ZERO;
    exposedUntil = Instant.MIN;
    firing = order instanceof Order.Fire;
    if (order instanceof Order.Fire fire) {
      sent = Template.valuesOf(fire.shot(), fire.exposure());
      exposure = Duration.ofNanos(Math.round(fire.exposure().shutter().seconds() * 1e9));
    }
    steps = Script.of(profile, order, sent);
    captured = new LinkedHashMap<>();
    unanswered.clear();
    releaseSent = false;
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
      Optional<LineBuffer.Line> line = lines.take(value);
      if (line.isPresent() && phase == Phase.WAITING) {
        heard(line.get(), now);
      }
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

  /** How the order ended, once. */
  public Optional<Outcome> takeOutcome() {
    Optional<Outcome> taken = outcome;
    outcome = Optional.empty();
    return taken;
  }

  /** Gives up the order that is under way, if one is, because the line is gone. */
  public void abandon(String reason) {
    lines.forget();
    output.reset();
    settledAt = Instant.MIN;
    if (isBusy()) {
      fail(new Outcome.Lost(reason), reason);
    }
  }

  /** Sends lines up to the next one that awaits an answer, or ends the order. */
  private void proceed(Instant now) {
    while (next < steps.size()) {
      if (now.isBefore(settledAt)) {
        phase = Phase.SETTLING;
        due = settledAt;
        return;
      }
      Script.Step step = steps.get(next);
      if (step.restart() != exchange) {
        exchange = step.restart();
        attempt = 1;
      }
      send(step, now);
      if (step.awaits() != Script.Awaits.NOTHING) {
        phase = Phase.WAITING;
        // After a release, the device may be deaf until the shutter has closed.
        due = (now.isBefore(exposedUntil) ? exposedUntil : now).plus(step.timeout());
        return;
      }
      next++;
    }
    end(new Outcome.Acknowledged(captured));
  }

  private void send(Script.Step step, Instant now) {
    if (step.releases()) {
      releaseSent = true;
      exposedUntil = now.plus(profile.releaseLag()).plus(exposure);
    }
    String line = step.line() + profile.line().sendTerminator().characters();
    output.writeBytes(line.getBytes(StandardCharsets.US_ASCII));
  }

  private void heard(LineBuffer.Line line, Instant now) {
    Script.Step step = steps.get(next);
    if (line.tooLong()) {
      strange = Optional.of("a line longer than " + LineBuffer.MAX_LINE_BYTES + " bytes");
      return;
    }
    Optional<String> refused = refusal(step, line.text());
    if (refused.isPresent() && releaseSent && isOfTheDevice(line.text())) {
      end(new Outcome.Garbled("after \"" + step.about() + "\" it said " + refused.get()));
      return;
    }
    if (refused.isPresent()) {
      end(new Outcome.Refused("the trigger refused \"" + step.about() + "\": " + refused.get()));
      return;
    }
    Optional<Map<String, String>> groups = step.reply().orElseThrow().match(line.text());
    if (groups.isEmpty() || !isOurs(groups.get())) {
      strange = Optional.of(quoted(line.text()));
      return;
    }
    if (step.awaits() == Script.Awaits.REPLY) {
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

  /** What the device says if it says no: by the profile's refusal, or with a queued error. */
  private Optional<String> refusal(Script.Step step, String text) {
    Optional<Map<String, String>> no = profile.refusal().flatMap(pattern -> pattern.match(text));
    if (no.isPresent()) {
      return Optional.of(no.get().getOrDefault("reason", quoted(text)));
    }
    if (!step.mayTellErrors()) {
      return Optional.empty();
    }
    return profile
        .errorQuery()
        .flatMap(query -> query.reply().match(text))
        .filter(error -> !isNoError(error.getOrDefault("code", "")))
        .map(
            error ->
                clipped((error.get("code") + " " + error.getOrDefault("message", "")).strip()));
  }

  /**
   * Whether an error tells of the device's own trouble rather than of the command, so that the
   * release may have been obeyed all the same: SCPI-1999 volume 2, 21.8, has the command's in -100
   * to -249; -250 is the mass storage, -300 and below the device [memory].
   */
  private boolean isOfTheDevice(String text) {
    return profile
        .errorQuery()
        .flatMap(query -> query.reply().match(text))
        .map(error -> error.getOrDefault("code", ""))
        .filter(code -> code.matches("-[0-9]{3}") && Integer.parseInt(code) <= -250)
        .isPresent();
  }

  private static boolean isNoError(String code) {
    return code.matches("[+-]?0+");
  }

  /** Whether every value given back that was sent with the order is the one that was sent. */
  private boolean isOurs(Map<String, String> groups) {
    for (Map.Entry<String, String> group : groups.entrySet()) {
      String expected = sent.get(group.getKey());
      if (expected != null && !isSame(group.getKey(), expected, group.getValue())) {
        return false;
      }
    }
    return true;
  }

  private static boolean isSame(String name, String expected, String given) {
    try {
      double wanted = Double.parseDouble(expected);
      double tolerance = name.equals("shot") ? 0 : SAME * wanted;
      return Math.abs(Double.parseDouble(given) - wanted) <= tolerance;
    } catch (NumberFormatException noNumber) {
      return false;
    }
  }

  private void timeOut(Instant now) {
    Script.Step step = steps.get(next);
    if (lines.hasPart()) {
      strange = Optional.of("the beginning of a line, " + quoted(lines.part()));
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
    String since = releaseSent ? " of the exposure's end" : "";
    if (strange.isPresent()) {
      String reason = "\"" + step.line() + "\"" + asked + " was answered with " + strange.get();
      fail(new Outcome.Garbled(reason), reason);
    } else {
      String reason =
          "no answer to \""
              + step.line()
              + "\" within "
              + step.timeout().toMillis()
              + " ms"
              + since
              + asked;
      fail(new Outcome.Lost(reason), reason);
    }
  }

  /** Before the release was sent, a shot's failure is a refusal: it is sure that nothing fired. */
  private void fail(Outcome failure, String reason) {
    boolean surelyNotReleased = firing && !releaseSent;
    end(surelyNotReleased ? new Outcome.Refused(reason + "; nothing was released") : failure);
  }

  private void end(Outcome ending) {
    phase = Phase.IDLE;
    due = Instant.MAX;
    outcome = Optional.of(ending);
  }

  private static String quoted(String text) {
    return "\"" + clipped(text) + "\"";
  }

  /** Fit for one line of a message: no control characters, not too long. */
  private static String clipped(String text) {
    String printable = text.replaceAll("[^ -~]", "?");
    return printable.length() <= MAX_QUOTE_LENGTH
        ? printable
        : printable.substring(0, MAX_QUOTE_LENGTH) + "…";
  }
}

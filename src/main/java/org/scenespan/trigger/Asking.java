package org.scenespan.trigger;

import java.util.HashSet;
import java.util.Optional;
import java.util.Set;

/** How often an exchange was asked, and what came instead of its answer. */
final class Asking {
  private final Set<Integer> unanswered = new HashSet<>();
  private int exchange = -1;
  private int attempt;
  private Optional<String> strange = Optional.empty();

  /** Forgets the order before. */
  void begin() {
    unanswered.clear();
    exchange = -1;
    strange = Optional.empty();
  }

  /** Counts a message that is sent; an exchange is known by the step that it goes back to. */
  void say(Step.Say step) {
    if (step.restart() != exchange) {
      exchange = step.restart();
      attempt = 1;
    }
  }

  /** Keeps what came and is no answer, to be told if none comes. */
  void heardStrange(String what) {
    strange = Optional.of(what);
  }

  /** Forgets what came before. */
  void forgetStrange() {
    strange = Optional.empty();
  }

  /** Keeps that no answer came in time to what a step asked. */
  void missed(int step) {
    unanswered.add(step);
  }

  /** Whether an earlier asking of a step was not answered in time, so that its answer may come. */
  boolean hasMissed(int step) {
    return unanswered.contains(step);
  }

  /** Whether the exchange may be asked once more, which is counted. */
  boolean again(Step.Say step) {
    if (attempt > step.retries()) {
      return false;
    }
    attempt++;
    return true;
  }

  /** Whether something came that is no answer. */
  boolean hasHeardStrange() {
    return strange.isPresent();
  }

  /**
   * Why an exchange that is not asked again has failed.
   *
   * @param exposed whether the time was counted from the exposure's end
   */
  String failure(Step.Say step, boolean exposed) {
    String asked = attempt == 1 ? "" : " (asked " + attempt + " times)";
    return strange
        .map(what -> "\"" + step.line() + "\"" + asked + " was answered with " + what)
        .orElseGet(
            () ->
                "no answer to \""
                    + step.line()
                    + "\" within "
                    + step.timeout().toMillis()
                    + " ms"
                    + (exposed ? " of the exposure's end" : "")
                    + asked);
  }
}

package org.scenespan.trigger;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** The steps that an order comes to with a profile, in the order they are spoken. */
final class Script {
  /** What is awaited after a step's line was sent. */
  enum Awaits {
    NOTHING,
    REPLY,
    ERRORS
  }

  /**
   * One line to send.
   *
   * @param line without its terminator
   * @param about the command that the line belongs to, to name it when it is refused
   * @param reply the answer, if one is awaited
   * @param mayTellErrors whether the device queues errors about this command
   * @param restart the step to go back to when no good answer comes
   * @param releases whether this line opens the shutter
   */
  record Step(
      String line,
      String about,
      Awaits awaits,
      Optional<ReplyPattern> reply,
      boolean mayTellErrors,
      Duration timeout,
      int retries,
      int restart,
      boolean releases) {}

  private final Profile profile;
  private final Map<String, String> values;
  private final List<Step> steps = new ArrayList<>();

  private Script(Profile profile, Map<String, String> values) {
    this.profile = profile;
    this.values = values;
  }

  /**
   * The steps of an order; empty if the profile has none for it.
   *
   * @param values the parameters' values
   */
  static List<Step> of(Profile profile, Order order, Map<String, String> values) {
    Script script = new Script(profile, values);
    if (order instanceof Order.Greet) {
      script.add(profile.greeting());
      profile.clear().ifPresent(script::add);
      profile.reset().ifPresent(script::add);
    } else if (order instanceof Order.ReadMeter) {
      profile.meter().ifPresent(script::add);
    } else {
      Profile.Commands commands = profile.commands();
      profile.clear().ifPresent(script::add);
      commands.shutter().ifPresent(script::add);
      commands.iso().ifPresent(script::add);
      commands.aperture().ifPresent(script::add);
      script.addRelease(commands.release());
    }
    return List.copyOf(script.steps);
  }

  /** An exchange that does no harm when done again: a retry goes back to its first line. */
  private void add(Profile.Exchange exchange) {
    int first = steps.size();
    addSend(exchange, exchange.retries(), false);
    if (exchange.checkErrors()) {
      addErrorQuery(exchange, first);
    }
    if (exchange.query().isPresent()) {
      addQuery(exchange, first);
    }
  }

  /** The release is sent once; only the questions after it are asked again. */
  private void addRelease(Profile.Exchange exchange) {
    addSend(exchange, 0, true);
    if (exchange.checkErrors()) {
      addErrorQuery(exchange, steps.size());
    }
    if (exchange.query().isPresent()) {
      addQuery(exchange, steps.size());
    }
  }

  private void addSend(Profile.Exchange exchange, int retries, boolean releases) {
    boolean answered = exchange.query().isEmpty() && exchange.reply().isPresent();
    steps.add(
        new Step(
            Template.fill(exchange.send(), values),
            Template.fill(exchange.send(), values),
            answered ? Awaits.REPLY : Awaits.NOTHING,
            answered ? exchange.reply() : Optional.empty(),
            exchange.checkErrors(),
            exchange.timeout(),
            retries,
            steps.size(),
            releases));
  }

  private void addErrorQuery(Profile.Exchange exchange, int restart) {
    Profile.ErrorQuery query = profile.errorQuery().orElseThrow();
    steps.add(
        new Step(
            query.send(),
            Template.fill(exchange.send(), values),
            Awaits.ERRORS,
            Optional.of(query.reply()),
            true,
            exchange.timeout(),
            exchange.retries(),
            restart,
            false));
  }

  private void addQuery(Profile.Exchange exchange, int restart) {
    steps.add(
        new Step(
            Template.fill(exchange.query().orElseThrow(), values),
            Template.fill(exchange.send(), values),
            Awaits.REPLY,
            exchange.reply(),
            exchange.checkErrors(),
            exchange.timeout(),
            exchange.retries(),
            restart,
            false));
  }
}

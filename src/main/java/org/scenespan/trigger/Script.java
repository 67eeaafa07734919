package org.scenespan.trigger;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** The steps that an order comes to with a profile, in the order they are taken. */
final class Script {
  private final Profile profile;
  private final Framing framing;
  private final Map<String, String> values;
  private final List<Step> steps = new ArrayList<>();

  private Script(Profile profile, Map<String, String> values) {
    this.profile = profile;
    this.framing = new Framing(profile.line());
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
      profile.contacts().ifPresent(script::letGo);
      profile.greeting().ifPresent(script::add);
      profile.clear().ifPresent(script::add);
      profile.reset().ifPresent(script::add);
    } else if (order instanceof Order.Beat) {
      profile.heartbeat().ifPresent(beat -> script.add(beat.exchange()));
    } else if (order instanceof Order.ReadMeter) {
      profile.meter().ifPresent(script::add);
    } else if (order instanceof Order.Press && !profile.isPlainlyReleased()) {
      return List.of();
    } else if (profile.contacts().isPresent()) {
      script.press(profile.contacts().get());
    } else {
      profile.clear().ifPresent(script::add);
      if (order instanceof Order.Fire) {
        script.set(profile.commands());
      }
      script.fire(profile.commands());
    }
    return List.copyOf(script.steps);
  }

  private void set(Profile.Commands commands) {
    commands.shutter().ifPresent(this::add);
    commands.iso().ifPresent(this::add);
    commands.aperture().ifPresent(this::add);
  }

  private void fire(Profile.Commands commands) {
    if (commands.halfPress().isPresent()) {
      add(commands.halfPress().get());
      rest(profile.pauses().halfPress());
    }
    if (commands.mirrorUp().isPresent()) {
      addOnce(commands.mirrorUp().get(), Step.Press.MIRROR);
      rest(profile.pauses().mirror());
    }
    commands.release().ifPresent(release -> addOnce(release, Step.Press.RELEASE));
    if (commands.open().isPresent()) {
      addOnce(commands.open().get(), Step.Press.OPEN);
      steps.add(new Step.Expose());
      commands.close().ifPresent(this::addClose);
    }
  }

  private void press(Profile.Contacts contacts) {
    contacts.halfPress().ifPresent(line -> set(line, true, Step.Press.NOTHING));
    rest(profile.pauses().halfPress());
    if (!profile.pauses().mirror().isZero()) {
      set(contacts.release(), true, Step.Press.MIRROR);
      rest(contacts.pulse());
      set(contacts.release(), false, Step.Press.NOTHING);
      rest(profile.pauses().mirror());
    }
    if (contacts.bulb()) {
      set(contacts.release(), true, Step.Press.OPEN);
      steps.add(new Step.Expose());
    } else {
      set(contacts.release(), true, Step.Press.RELEASE);
      rest(contacts.pulse());
    }
    letGo(contacts);
  }

  private void letGo(Profile.Contacts contacts) {
    set(contacts.release(), false, Step.Press.CLOSE);
    contacts.halfPress().ifPresent(line -> set(line, false, Step.Press.NOTHING));
  }

  private void set(ModemLine line, boolean closed, Step.Press press) {
    steps.add(new Step.Switch(line, closed, press));
  }

  private void rest(Duration time) {
    if (!time.isZero()) {
      steps.add(new Step.Rest(time));
    }
  }

  /** An exchange that does no harm when done again: a retry goes back to its first line. */
  private void add(Profile.Exchange exchange) {
    int first = steps.size();
    addSend(exchange, exchange.retries(), Step.Press.NOTHING);
    addQuestions(exchange, first, first);
  }

  /** What moves the shutter is sent once; only the questions after it are asked again. */
  private void addOnce(Profile.Exchange exchange, Step.Press press) {
    addSend(exchange, 0, press);
    int errors = steps.size();
    addQuestions(exchange, errors, exchange.checkErrors() ? errors + 1 : errors);
  }

  private void addClose(Profile.Exchange exchange) {
    int first = steps.size();
    addSend(exchange, exchange.retries(), Step.Press.CLOSE);
    addQuestions(exchange, first, first);
  }

  private void addQuestions(Profile.Exchange exchange, int errorsRestart, int queryRestart) {
    if (exchange.checkErrors()) {
      addErrorQuery(exchange, errorsRestart);
    }
    if (exchange.query().isPresent()) {
      addQuery(exchange, queryRestart);
    }
  }

  private void addSend(Profile.Exchange exchange, int retries, Step.Press press) {
    boolean answered = exchange.query().isEmpty() && exchange.reply().isPresent();
    steps.add(
        new Step.Say(
            fill(exchange.send()),
            fill(exchange.send()),
            answered ? Step.Awaits.REPLY : Step.Awaits.NOTHING,
            answered ? exchange.reply() : Optional.empty(),
            exchange.checkErrors(),
            exchange.timeout(),
            retries,
            steps.size(),
            press));
  }

  private void addErrorQuery(Profile.Exchange exchange, int restart) {
    Profile.ErrorQuery query = profile.errorQuery().orElseThrow();
    steps.add(
        new Step.Say(
            query.send(),
            fill(exchange.send()),
            Step.Awaits.ERRORS,
            Optional.of(query.reply()),
            true,
            exchange.timeout(),
            exchange.retries(),
            restart,
            Step.Press.NOTHING));
  }

  private void addQuery(Profile.Exchange exchange, int restart) {
    steps.add(
        new Step.Say(
            fill(exchange.query().orElseThrow()),
            fill(exchange.send()),
            Step.Awaits.REPLY,
            exchange.reply(),
            exchange.checkErrors(),
            exchange.timeout(),
            exchange.retries(),
            restart,
            Step.Press.NOTHING));
  }

  private String fill(String template) {
    return Template.fill(template, values, framing);
  }
}

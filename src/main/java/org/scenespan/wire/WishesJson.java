package org.scenespan.wire;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.Optional;
import org.scenespan.light.Ev;
import org.scenespan.light.Share;
import org.scenespan.light.Stops;
import org.scenespan.plan.Intent;
import org.scenespan.plan.Known;
import org.scenespan.session.BracketSetup;

/**
 * The photographer's wishes and knowledge in a setup. What is not there is as usual, so that a
 * journal from before they existed is read as it was meant.
 */
final class WishesJson {
  private WishesJson() {}

  static void write(ObjectNode node, BracketSetup setup) {
    Intent intent = setup.goal().intent();
    ObjectNode goal = (ObjectNode) node.get("goal");
    goal.put("keep", intent.keep().label());
    goal.put("letGoArea", intent.letGoArea().value());
    intent.steps().ifPresent(steps -> goal.put("stepsStops", Scalars.tidy(steps.value())));
    goal.put("copies", intent.copies());
    goal.put("order", intent.order().label());
    goal.put("extraForMotion", intent.extraForMotion());
    ObjectNode known = node.putObject("known");
    known.put("sunInFrame", setup.known().sunInFrame());
    setup
        .known()
        .earlier()
        .ifPresent(
            span -> {
              ObjectNode expected = known.putObject("expectedSpan");
              expected.put("lowEv", Scalars.tidy(span.low().value()));
              expected.put("highEv", Scalars.tidy(span.high().value()));
              expected.put("source", span.source());
            });
  }

  static Intent intent(JsonNode goal) {
    return new Intent(
        keep(goal.path("keep").asText(Intent.Keep.BOTH.label())),
        new Share(goal.path("letGoArea").asDouble(0)),
        Nodes.optionalNumber(goal, "stepsStops").map(Stops::new),
        goal.path("copies").asInt(1),
        order(goal.path("order").asText(Intent.Order.PLANNED.label())),
        goal.path("extraForMotion").asBoolean(false));
  }

  private static Intent.Keep keep(String label) {
    for (Intent.Keep keep : Intent.Keep.values()) {
      if (keep.label().equals(label)) {
        return keep;
      }
    }
    throw new IllegalArgumentException("field keep (" + label + ") is no known end");
  }

  private static Intent.Order order(String label) {
    for (Intent.Order order : Intent.Order.values()) {
      if (order.label().equals(label)) {
        return order;
      }
    }
    throw new IllegalArgumentException("field order (" + label + ") is no known order");
  }

  static Known known(JsonNode node) {
    JsonNode known = node.path("known");
    Optional<Known.EarlierSpan> earlier = Optional.empty();
    if (known.hasNonNull("expectedSpan")) {
      JsonNode span = Nodes.object(known, "expectedSpan");
      earlier =
          Optional.of(
              new Known.EarlierSpan(
                  new Ev(Nodes.number(span, "lowEv")),
                  new Ev(Nodes.number(span, "highEv")),
                  Nodes.text(span, "source")));
    }
    return new Known(Optional.empty(), known.path("sunInFrame").asBoolean(false), earlier);
  }
}

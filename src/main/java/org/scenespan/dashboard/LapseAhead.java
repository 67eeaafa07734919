package org.scenespan.dashboard;

import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import org.scenespan.light.Exposure;
import org.scenespan.plan.ramp.RampChoice;
import org.scenespan.session.LapseOutlook;
import org.scenespan.session.LapseSetup;
import org.scenespan.session.State;

/** What a running lapse is going to do, and where the sun is meanwhile, as the page asks for it. */
public final class LapseAhead {
  private static final JsonMapper MAPPER = JsonMapper.builder().build();

  /** The sun keeps to its course: it is reckoned once. */
  private Optional<SunOverLapse> sun = Optional.empty();

  private ObjectNode told = MAPPER.createObjectNode();

  /** The state that was asked about last, and its outlook: every page asks for the same. */
  private State asked = State.EMPTY;

  private LapseOutlook outlook = LapseOutlook.of(State.EMPTY);

  /**
   * One JSON object; empty if the session is no lapse.
   *
   * @param now the host's time
   */
  public synchronized Optional<String> json(State state, Instant now) {
    if (!state.isLapse()) {
      return Optional.empty();
    }
    if (state != asked) {
      asked = state;
      outlook = LapseOutlook.of(state);
    }
    ObjectNode node = MAPPER.createObjectNode();
    node.put("now", now.toString());
    ObjectNode coming = node.putObject("coming");
    ArrayNode seconds = coming.putArray("seconds");
    ArrayNode light = coming.putArray("light");
    ArrayNode set = coming.putArray("set");
    ArrayNode wanted = coming.putArray("wanted");
    for (RampChoice each : outlook.coming()) {
      seconds.add(each.seconds());
      light.add(hundredths(each.forecast().value()));
      set.add(hundredths(each.exposure().ev().value()));
      wanted.add(hundredths(each.wanted().value()));
    }
    outlook.change().ifPresent(it -> write(node.putObject("change"), it));
    writeSun(node, state);
    return Optional.of(node.toString());
  }

  private static double hundredths(double value) {
    return Math.rint(value * 100) / 100;
  }

  private static void write(ObjectNode node, RampChoice choice) {
    Exposure exposure = choice.exposure();
    node.put("seconds", choice.seconds());
    node.put("shutterSeconds", exposure.shutter().nominalSeconds());
    node.put("aperture", exposure.aperture().nominalNumber());
    node.put("iso", Math.round(exposure.iso().nominalSpeed()));
    node.put("ev", hundredths(exposure.ev().value()));
  }

  private void writeSun(ObjectNode node, State state) {
    Optional<Instant> start = LapseOutlook.sunStart(state);
    if (start.isEmpty()) {
      return;
    }
    LapseSetup setup = (LapseSetup) state.opened();
    Duration length = setup.cadence().interval().multipliedBy(setup.cadence().frames());
    SunOverLapse now = new SunOverLapse(setup.sky().orElseThrow().at(), start.get(), length);
    if (!sun.equals(Optional.of(now))) {
      sun = Optional.of(now);
      told = MAPPER.createObjectNode();
      now.write(told);
    }
    node.set("sun", told);
  }
}

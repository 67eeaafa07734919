package org.scenespan.dashboard;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.Function;
import org.scenespan.light.Aperture;
import org.scenespan.light.CameraRange;
import org.scenespan.light.Distance;
import org.scenespan.light.Ev;
import org.scenespan.light.FocalLength;
import org.scenespan.light.Iso;
import org.scenespan.light.Movement;
import org.scenespan.light.NeutralDensity;
import org.scenespan.light.SensorFormat;
import org.scenespan.light.Shutter;
import org.scenespan.light.ShutterLadder;
import org.scenespan.light.Speed;
import org.scenespan.light.Stops;
import org.scenespan.plan.settings.PlannedLimits;
import org.scenespan.plan.settings.Settings;
import org.scenespan.plan.settings.SettingsPlan;
import org.scenespan.plan.settings.Water;
import org.scenespan.plan.settings.Wish;
import org.scenespan.wire.PlanJson;

/** What the page on planning asks: wishes as the parameters of an address, a plan as JSON. */
final class PlanAnswers {
  /** What most cameras and lenses can set. */
  private static final CameraRange USUAL =
      new CameraRange(
          ShutterLadder.thirds(Shutter.parse("1/8000"), Shutter.parse("30s")),
          Iso.parse("100"),
          Iso.parse("12800"),
          Aperture.parse("f/2.8"),
          Aperture.parse("f/22"));

  private static final int USUAL_COLUMNS = 6000;

  /** The longest value of a parameter, in characters. */
  private static final int LONGEST_VALUE = 40;

  private final Function<String, String> parameters;

  private PlanAnswers(Function<String, String> parameters) {
    this.parameters = parameters;
  }

  /**
   * @param parameters by name; null where one is not given
   * @throws IllegalArgumentException in one line, if a value is none
   */
  static ObjectNode to(Function<String, String> parameters) {
    return new PlanAnswers(parameters).answer();
  }

  private ObjectNode answer() {
    Ev scene =
        new Ev(number("ev").orElseThrow(() -> new IllegalArgumentException("ev is missing")));
    NeutralDensity filter =
        number("filter-stops").map(NeutralDensity::new).orElse(NeutralDensity.NONE);
    SettingsPlan plan = new SettingsPlan(scene, filter, USUAL, wishes());
    List<Settings> ranked = plan.ranked();
    Settings chosen = SettingsPlan.chosen(ranked, value("choose", Integer::valueOf).orElse(1));
    return PlanJson.exposure(plan, ranked, PlannedLimits.of(chosen, plan.wishes()), "as given");
  }

  private List<Wish> wishes() {
    List<Wish> wishes = new ArrayList<>();
    FocalLength lens = value("focal", FocalLength::parse).orElse(new FocalLength(24));
    SensorFormat sensor =
        SensorFormat.parse(value("sensor", it -> it).orElse("full-frame"), USUAL_COLUMNS);
    value("near", Distance::parse)
        .ifPresent(
            near ->
                wishes.add(
                    new Wish.Depth(
                        lens,
                        sensor,
                        near,
                        value("far", Distance::parse).orElse(Distance.INFINITE))));
    if (value("diffraction", it -> it).isPresent()) {
      wishes.add(new Wish.FineDetail(sensor.circleMillimetres()));
    }
    movement()
        .ifPresent(it -> wishes.add(new Wish.Freeze(it, lens, sensor, sensor.circlePixels())));
    value("water", it -> Water.valueOf(it.toUpperCase(Locale.ROOT)))
        .ifPresent(water -> wishes.add(water.wish()));
    if (value("stars", it -> it).isPresent()) {
      wishes.add(new Wish.StarPoints(lens, sensor, 0, 1));
    }
    if (value("hand-held", it -> it).isPresent()) {
      wishes.add(new Wish.HandHeld(lens, sensor, Stops.ZERO));
    }
    value("highest-iso", Iso::parse).ifPresent(iso -> wishes.add(new Wish.LowNoise(iso)));
    return wishes;
  }

  private Optional<Movement> movement() {
    Optional<Speed> speed = value("speed", Speed::parse);
    Optional<Distance> subject = value("subject", Distance::parse);
    return speed.flatMap(
        fast -> subject.map(far -> new Movement(fast, far, Movement.Direction.ACROSS)));
  }

  private Optional<Double> number(String name) {
    return value(name, Double::valueOf);
  }

  private <T> Optional<T> value(String name, Function<String, T> parser) {
    String text = parameters.apply(name);
    if (text == null || text.isBlank()) {
      return Optional.empty();
    }
    if (text.length() > LONGEST_VALUE) {
      throw new IllegalArgumentException(name + " is too long");
    }
    try {
      return Optional.of(parser.apply(text));
    } catch (IllegalArgumentException wrong) {
      throw new IllegalArgumentException(name + ": " + wrong.getMessage(), wrong);
    }
  }
}

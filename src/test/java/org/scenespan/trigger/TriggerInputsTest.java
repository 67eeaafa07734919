package org.scenespan.trigger;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.params.provider.Arguments.arguments;

import java.util.List;
import java.util.Map;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;
import org.scenespan.light.Aperture;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;
import org.scenespan.session.Input;

class TriggerInputsTest {
  static List<Arguments> ends() {
    Order greet = new Order.Greet();
    Order meter = new Order.ReadMeter();
    Order fire =
        new Order.Fire(7, new Exposure(Shutter.ofThird(0), Aperture.ofThird(18), Iso.ofThird(0)));
    Outcome refused = new Outcome.Refused("no");
    Outcome garbled = new Outcome.Garbled("what");
    Outcome lost = new Outcome.Lost("where");
    return List.of(
        arguments(greet, done("identity", "A,B,0,1"), new Input.TriggerGreeted("A,B,0,1")),
        arguments(greet, refused, new Input.TriggerLost("no")),
        arguments(greet, garbled, new Input.TriggerLost("what")),
        arguments(greet, lost, new Input.TriggerLost("where")),
        arguments(meter, done("ev", "12.03"), new Input.SceneMetered(new Ev(12.03))),
        arguments(meter, done("ev", "-2.5E0"), new Input.SceneMetered(new Ev(-2.5))),
        // SCPI-1999's "not a number" [memory].
        arguments(
            meter,
            done("ev", "9.91E37"),
            new Input.MeterUnread("the meter answered EV 9.91E37, which no scene has")),
        arguments(
            meter,
            done("ev", "NaN"),
            new Input.MeterUnread("the meter answered EV NaN, which no scene has")),
        arguments(
            meter,
            done("ev", "dark"),
            new Input.MeterUnread("the meter answered \"dark\", which is no number")),
        arguments(meter, refused, new Input.MeterUnread("no")),
        arguments(meter, garbled, new Input.MeterUnread("what")),
        arguments(meter, lost, new Input.MeterUnread("where")),
        arguments(fire, done("shot", "7"), new Input.ReleaseConfirmed(7)),
        arguments(fire, refused, new Input.ReleaseRefused(7, "no")),
        arguments(fire, garbled, new Input.ReleaseUnconfirmed(7, "what")),
        arguments(fire, lost, new Input.ReleaseUnconfirmed(7, "where")));
  }

  private static Outcome done(String group, String value) {
    return new Outcome.Acknowledged(Map.of(group, value));
  }

  @ParameterizedTest
  @MethodSource("ends")
  void everyEndOfEveryOrderIsAnInput(Order order, Outcome outcome, Input input) {
    assertEquals(input, TriggerInputs.of(order, outcome));
  }
}

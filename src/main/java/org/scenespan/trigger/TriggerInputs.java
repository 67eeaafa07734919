package org.scenespan.trigger;

import java.util.Map;
import org.scenespan.light.Ev;
import org.scenespan.session.Input;

/** Puts the end of an order into the session's words. */
public final class TriggerInputs {
  /**
   * What a meter can mean, in EV at ISO 100: starlight is about −7, the sun's disc about 31. Keeps
   * out SCPI-1999's "not a number", 9.91E37 [memory].
   */
  private static final double DARKEST_EV = -20;

  private static final double BRIGHTEST_EV = 40;

  private TriggerInputs() {}

  public static Input of(Order order, Outcome outcome) {
    if (order instanceof Order.Fire fire) {
      return ofShot(fire.shot(), outcome);
    }
    if (order instanceof Order.Press press) {
      return ofShot(press.shot(), outcome);
    }
    if (order instanceof Order.Beat) {
      throw new IllegalArgumentException("a heartbeat is no news");
    }
    if (outcome instanceof Outcome.Acknowledged done) {
      return order instanceof Order.Greet
          ? new Input.TriggerGreeted(done.groups().getOrDefault("identity", "no identity"))
          : metered(done.groups());
    }
    String reason = reasonOf(outcome);
    return order instanceof Order.Greet
        ? new Input.TriggerLost(reason)
        : new Input.MeterUnread(reason);
  }

  private static Input ofShot(int shot, Outcome outcome) {
    if (outcome instanceof Outcome.Acknowledged done) {
      return new Input.ReleaseConfirmed(shot, Replies.exposed(done.groups()));
    }
    return outcome instanceof Outcome.Refused refused
        ? new Input.ReleaseRefused(shot, refused.reason())
        : new Input.ReleaseUnconfirmed(shot, reasonOf(outcome));
  }

  private static Input metered(Map<String, String> groups) {
    String text = groups.getOrDefault("ev", "");
    double ev;
    try {
      ev = Double.parseDouble(text);
    } catch (NumberFormatException noNumber) {
      return new Input.MeterUnread("the meter answered \"" + text + "\", which is no number");
    }
    return ev >= DARKEST_EV && ev <= BRIGHTEST_EV
        ? new Input.SceneMetered(new Ev(ev))
        : new Input.MeterUnread("the meter answered EV " + text + ", which no scene has");
  }

  static String reasonOf(Outcome outcome) {
    if (outcome instanceof Outcome.Refused refused) {
      return refused.reason();
    }
    if (outcome instanceof Outcome.Garbled garbled) {
      return garbled.reason();
    }
    return outcome instanceof Outcome.Lost lost ? lost.reason() : "";
  }
}

package org.scenespan.cli;

import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.scenespan.light.Illuminance;
import org.scenespan.sky.ClearSky;
import org.scenespan.sky.Course;
import org.scenespan.sky.Horizon;
import org.scenespan.sky.Sun;
import org.scenespan.sky.SunDay;
import org.scenespan.sky.SunPosition;

/** What the sun does on a day, in order of time, with the light at each moment. */
final class SunEvents {
  private SunEvents() {}

  /**
   * @param name {@code sunrise}, {@code civil dusk}, …
   * @param light on level ground under a clear sky
   */
  record SunEvent(String name, Instant at, SunPosition sun, Illuminance light) {}

  static List<SunEvent> of(SunDay day) {
    List<SunEvent> events = new ArrayList<>();
    for (Horizon horizon : Horizon.values()) {
      if (day.course(horizon) instanceof Course.Crosses crosses) {
        crosses.rising().forEach(at -> events.add(event(rising(horizon), day, at)));
        crosses.setting().forEach(at -> events.add(event(setting(horizon), day, at)));
      }
    }
    day.transit().ifPresent(at -> events.add(event("transit", day, at)));
    events.sort(Comparator.comparing(SunEvent::at));
    return events;
  }

  static SunEvent event(String name, SunDay day, Instant at) {
    SunPosition sun = Sun.at(day.place(), at);
    return new SunEvent(name, at, sun, ClearSky.illuminance(sun));
  }

  static String rising(Horizon horizon) {
    return horizon == Horizon.RISE_AND_SET ? "sunrise" : word(horizon) + " dawn";
  }

  static String setting(Horizon horizon) {
    return horizon == Horizon.RISE_AND_SET ? "sunset" : word(horizon) + " dusk";
  }

  private static String word(Horizon horizon) {
    return horizon.name().toLowerCase(Locale.ROOT);
  }

  /** How the day stands to each horizon, by a plain name. */
  static Map<String, String> outcomes(SunDay day) {
    Map<String, String> outcomes = new LinkedHashMap<>();
    for (Horizon horizon : Horizon.values()) {
      String name = horizon == Horizon.RISE_AND_SET ? "sun" : word(horizon);
      outcomes.put(name, outcome(day.course(horizon)));
    }
    return outcomes;
  }

  private static String outcome(Course course) {
    if (course instanceof Course.StaysAbove) {
      return "above-all-day";
    }
    return course instanceof Course.StaysBelow ? "below-all-day" : "crosses";
  }

  /** What is special of the day, a sentence each. */
  static List<String> remarks(SunDay day) {
    List<String> remarks = new ArrayList<>();
    Course sun = day.course(Horizon.RISE_AND_SET);
    if (sun instanceof Course.StaysAbove) {
      remarks.add("Polar day: the sun stays up all day.");
      return remarks;
    }
    if (sun instanceof Course.StaysBelow) {
      remarks.add("Polar night: the sun stays down all day.");
    }
    for (Horizon horizon : List.of(Horizon.CIVIL, Horizon.NAUTICAL, Horizon.ASTRONOMICAL)) {
      Course course = day.course(horizon);
      if (course instanceof Course.StaysAbove) {
        remarks.add("It gets no darker than " + word(horizon) + " twilight.");
        break;
      }
      if (course instanceof Course.StaysBelow) {
        remarks.add("There is no " + word(horizon) + " twilight: it stays darker all day.");
      }
    }
    return remarks;
  }
}

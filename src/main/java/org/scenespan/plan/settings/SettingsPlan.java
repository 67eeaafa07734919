package org.scenespan.plan.settings;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.function.Predicate;
import org.scenespan.light.Aperture;
import org.scenespan.light.CameraRange;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.NeutralDensity;
import org.scenespan.light.Rounding;
import org.scenespan.light.Shutter;
import org.scenespan.light.Stops;

/**
 * Finds the settings for a picture: every aperture and ISO of the camera's ladder with the shutter
 * that exposes right, judged by each wish in stops.
 *
 * <p>A stop is a stop whoever gives it up: they are added as they are. Where several settings give
 * up nothing, the lowest ISO comes first, and among those the aperture nearest to f/8.
 *
 * @param scene the brightness of the scene
 * @param filter what stands before the lens
 * @param camera what can be set
 * @param wishes what the picture is to have
 */
public record SettingsPlan(Ev scene, NeutralDensity filter, CameraRange camera, List<Wish> wishes) {
  /** More than anybody compares in the field. */
  private static final int MOST_PROPOSALS = 5;

  /** Settings nearer than this in shutter and aperture are no different picture. */
  private static final double DIFFERENT_STOPS = 0.9;

  /** The strongest filter that is proposed: three on one another. */
  private static final int STRONGEST_FILTER_STOPS = 20;

  private static final double FAVOURED_AV = Aperture.ofNominal(8).av();

  public SettingsPlan {
    wishes = List.copyOf(wishes);
  }

  /** The settings worth a thought, the best first; at least one. */
  public List<Settings> ranked() {
    List<Settings> all = candidates();
    List<Settings> meeting = all.stream().filter(Settings::meetsAll).toList();
    Set<Settings> chosen = new LinkedHashSet<>();
    if (!meeting.isEmpty()) {
      chosen.add(meeting.get(0));
      add(chosen, meeting, Comparator.comparing((Settings it) -> it.exposure().shutter()));
      add(
          chosen,
          meeting,
          Comparator.comparing((Settings it) -> it.exposure().shutter()).reversed());
      add(chosen, meeting, Comparator.comparing((Settings it) -> it.exposure().aperture()));
      add(
          chosen,
          meeting,
          Comparator.comparing((Settings it) -> it.exposure().aperture()).reversed());
    } else {
      chosen.add(all.get(0));
      for (Wish wish : wishes) {
        all.stream().filter(givesUpOnly(wish.name())).findFirst().ifPresent(chosen::add);
      }
      all.stream().filter(givesUpOnly("the right exposure")).findFirst().ifPresent(chosen::add);
    }
    return chosen.stream().sorted(order()).limit(MOST_PROPOSALS).toList();
  }

  /**
   * One of ranked settings.
   *
   * @param number from 1
   * @throws IllegalArgumentException if there is none of this number
   */
  public static Settings chosen(List<Settings> ranked, int number) {
    if (!(number >= 1 && number <= ranked.size())) {
      throw new IllegalArgumentException(
          "choice (" + number + ") must be 1 to " + ranked.size() + ", as many as there are");
    }
    return ranked.get(number - 1);
  }

  /** Whether any settings hold every wish. */
  public boolean canBeMet() {
    return exposures().stream().anyMatch(this::holds);
  }

  /**
   * Where nothing meets the wishes, what outside of the camera would have to change: a filter, or
   * the light. Empty where something does.
   */
  public List<String> remedies() {
    if (canBeMet()) {
      return List.of();
    }
    List<String> remedies = new ArrayList<>();
    filterThatHelps().ifPresent(remedies::add);
    lightThatHelps().ifPresent(remedies::add);
    if (remedies.isEmpty()) {
      remedies.add("No light and no filter lets all wishes hold together: they contradict.");
    }
    return List.copyOf(remedies);
  }

  private Optional<String> filterThatHelps() {
    for (int stops = 1; stops <= STRONGEST_FILTER_STOPS; stops++) {
      NeutralDensity more = new NeutralDensity(Math.min(30, filter.stops() + stops));
      if (through(more).canBeMet()) {
        return Optional.of(
            "With neutral density of " + more + " in all before the lens every wish holds.");
      }
    }
    for (double stops = filter.stops() - 1; stops > -1; stops -= 1) {
      NeutralDensity less = new NeutralDensity(Math.max(0, stops));
      if (through(less).canBeMet()) {
        return Optional.of(
            less.stops() == 0
                ? "Without the filter every wish holds."
                : "With neutral density of only " + less + " every wish holds.");
      }
    }
    return Optional.empty();
  }

  private SettingsPlan through(NeutralDensity other) {
    return new SettingsPlan(scene, other, camera, wishes);
  }

  private Optional<String> lightThatHelps() {
    for (int thirds = 1; thirds <= 60; thirds++) {
      for (int sign : new int[] {1, -1}) {
        Ev other = scene.plus(new Stops(sign * thirds / 3.0));
        if (new SettingsPlan(other, filter, camera, wishes).canBeMet()) {
          return Optional.of(
              String.format(
                  Locale.ROOT,
                  "In %s light (%s, %.1f stops %s) every wish holds.",
                  sign > 0 ? "brighter" : "dimmer",
                  other,
                  thirds / 3.0,
                  sign > 0 ? "more" : "less"));
        }
      }
    }
    return Optional.empty();
  }

  private static Predicate<Settings> givesUpOnly(String what) {
    return it -> it.givenUp().size() == 1 && it.givenUp().get(0).what().equals(what);
  }

  private static void add(
      Set<Settings> chosen, List<Settings> among, Comparator<Settings> preference) {
    Settings extreme = among.stream().min(preference).orElseThrow();
    if (chosen.stream().allMatch(it -> areDifferent(it.exposure(), extreme.exposure()))) {
      chosen.add(extreme);
    }
  }

  private static boolean areDifferent(Exposure one, Exposure other) {
    return Math.abs(one.shutter().tv() - other.shutter().tv()) > DIFFERENT_STOPS
        || Math.abs(one.aperture().av() - other.aperture().av()) > DIFFERENT_STOPS;
  }

  private static Comparator<Settings> order() {
    // To a twentieth: rounding must not decide between equals.
    return Comparator.comparingLong((Settings it) -> Math.round(it.total().value() * 20))
        .thenComparing(it -> it.exposure().iso())
        .thenComparingDouble(it -> Math.abs(it.exposure().aperture().av() - FAVOURED_AV))
        .thenComparing(it -> it.exposure().shutter());
  }

  private boolean holds(Exposure exposure) {
    double off = Math.abs(brighter(exposure).value());
    return off <= Settings.HALF_STEP_STOPS
        && wishes.stream().allMatch(wish -> Settings.holds(wish.shortfall(exposure)));
  }

  private Stops brighter(Exposure exposure) {
    return filter.behind(scene).minus(exposure.ev());
  }

  /** All that can be set, the best first. */
  private List<Settings> candidates() {
    List<Settings> all = new ArrayList<>();
    for (Exposure exposure : exposures()) {
      all.add(Settings.of(exposure, brighter(exposure), wishes));
    }
    all.sort(order());
    return all;
  }

  /** Each aperture and ISO with the shutter that exposes right, as near as the ladder goes. */
  private List<Exposure> exposures() {
    List<Exposure> all = new ArrayList<>();
    Ev behind = filter.behind(scene);
    List<Iso> isos = Iso.thirds(camera.lowestIso(), camera.highestIso());
    for (Aperture aperture : Aperture.thirds()) {
      if (isSettable(aperture)) {
        for (Iso iso : isos) {
          Ev atOneSecond = new Exposure(new Shutter(1), aperture, iso).ev();
          double seconds = atOneSecond.minus(behind).ratio();
          Shutter shutter = camera.shutters().at(seconds, Rounding.NEAREST);
          all.add(new Exposure(shutter, aperture, iso));
        }
      }
    }
    if (all.isEmpty()) {
      throw new IllegalArgumentException(
          "no third-stop aperture and ISO lie within what the camera can set");
    }
    return all;
  }

  private boolean isSettable(Aperture aperture) {
    return aperture.av() > camera.widest().av() - 0.01
        && aperture.av() < camera.smallest().av() + 0.01;
  }
}

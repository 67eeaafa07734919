package org.scenespan.trigger;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.scenespan.light.Aperture;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;

/** Reads a profile's limits, and checks that its commands can reach them. */
final class LimitsReader {
  private static final String THIRD_STOPS = "third-stops";
  private static final Set<String> TIMES = Set.of("seconds", "milliseconds", "microseconds");

  private LimitsReader() {}

  static Profile.Limits limits(ProfileFields fields) {
    double shortest = fields.number("shutterShortestSeconds", 1e-6, 86_400);
    double longest = fields.number("shutterLongestSeconds", 1e-6, 86_400);
    if (!(shortest <= longest)) {
      throw fields.wrong(
          "shutterShortestSeconds", "must not be more than limits.shutterLongestSeconds");
    }
    double isoLowest = fields.number("isoLowest", 1, 10_000_000);
    double isoHighest = fields.number("isoHighest", 1, 10_000_000);
    if (!(isoLowest <= isoHighest)) {
      throw fields.wrong("isoLowest", "must not be more than limits.isoHighest");
    }
    double widest = fields.number("apertureWidest", 0.5, 128);
    double smallest = fields.number("apertureSmallest", 0.5, 128);
    if (!(widest <= smallest)) {
      throw fields.wrong(
          "apertureWidest", "must not be more than limits.apertureSmallest (f-numbers)");
    }
    return new Profile.Limits(
        Shutter.ofNominal(shortest),
        Shutter.ofNominal(longest),
        resolution(fields),
        Iso.ofNominal(isoLowest),
        Iso.ofNominal(isoHighest),
        Aperture.ofNominal(widest),
        Aperture.ofNominal(smallest));
  }

  /** Seconds, or the third-stop series: a field of two kinds, as in the schema. */
  private static double resolution(ProfileFields fields) {
    if (fields.isText("shutterResolution")) {
      fields.choice("shutterResolution", Map.of(THIRD_STOPS, 0.0));
      return 0;
    }
    return fields.number("shutterResolution", 1e-6, 60);
  }

  /** What no command sets must be fixed, and the limits must leave something to set. */
  static void requireReach(ProfileFields root, Profile profile) {
    Map<String, Integer> set = new HashMap<>();
    for (String template : templates(profile.commands())) {
      set.putAll(Template.widthsOf(template));
    }
    Profile.Limits limits = profile.limits();
    if (!profile.isReleaseOnly()) {
      if (!profile.isTimedByHost()
          && set.keySet().stream().noneMatch(TIMES::contains)
          && !limits.shutterShortest().equals(limits.shutterLongest())) {
        throw unset(root, "shutter ({seconds})", "shutterShortestSeconds", "shutterLongestSeconds");
      }
      if (!set.containsKey("iso") && !limits.isoLowest().equals(limits.isoHighest())) {
        throw unset(root, "ISO ({iso})", "isoLowest", "isoHighest");
      }
      if (!set.containsKey("aperture")
          && !limits.apertureWidest().equals(limits.apertureSmallest())) {
        throw unset(root, "aperture ({aperture})", "apertureWidest", "apertureSmallest");
      }
    }
    requireRoom(root, set, limits);
    try {
      profile.cameraRange();
    } catch (IllegalArgumentException e) {
      throw root.wrong("limits", "cannot be met: " + e.getMessage());
    }
  }

  /** A number of bytes must hold the biggest value that the limits allow. */
  private static void requireRoom(
      ProfileFields root, Map<String, Integer> widths, Profile.Limits limits) {
    Map<String, Double> biggest =
        Map.of(
            "milliseconds",
            limits.shutterLongest().seconds() * 1e3,
            "microseconds",
            limits.shutterLongest().seconds() * 1e6,
            "iso",
            limits.isoHighest().nominalSpeed());
    widths.forEach(
        (name, width) -> {
          if (width > 0
              && biggest.containsKey(name)
              && Math.rint(biggest.get(name)) >= Math.pow(256, width)) {
            throw root.wrong(
                "commands", "has too few bytes for {" + name + ":" + width + "} at its limit");
          }
        });
  }

  private static List<String> templates(Profile.Commands commands) {
    List<String> templates = new ArrayList<>();
    for (Optional<Profile.Exchange> exchange :
        List.of(
            commands.shutter(),
            commands.iso(),
            commands.aperture(),
            commands.release(),
            commands.open())) {
      exchange.ifPresent(present -> templates.add(present.send()));
    }
    return templates;
  }

  private static IllegalArgumentException unset(
      ProfileFields root, String what, String least, String most) {
    return root.wrong(
        "commands",
        "has nothing that sets the "
            + what
            + "; add it, or make limits."
            + least
            + " and limits."
            + most
            + " the same");
  }
}

package org.scenespan.trigger;

import com.fasterxml.jackson.databind.JsonNode;
import java.time.Duration;
import java.util.HashSet;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.scenespan.light.Aperture;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;

/** Makes a {@link Profile} of JSON, or names the field that is wrong. */
final class ProfileReader {
  /** The fields of each object, by the name of its definition in profile.schema.json. */
  static final Map<String, Set<String>> FIELDS =
      Map.of(
          "profile",
          Set.of(
              "$schema",
              "name",
              "description",
              "kind",
              "line",
              "settleMillis",
              "greeting",
              "clear",
              "reset",
              "errorQuery",
              "refusal",
              "commands",
              "meter",
              "limits",
              "releaseLagMillis"),
          "line",
          Set.of(
              "baud",
              "dataBits",
              "parity",
              "stopBits",
              "flowControl",
              "sendTerminator",
              "replyTerminator"),
          "exchange",
          Set.of("send", "checkErrors", "query", "reply", "timeoutMillis", "retries"),
          "errorQuery",
          Set.of("send", "reply"),
          "commands",
          Set.of("shutter", "iso", "aperture", "release"),
          "limits",
          Set.of(
              "shutterShortestSeconds",
              "shutterLongestSeconds",
              "shutterResolution",
              "isoLowest",
              "isoHighest",
              "apertureWidest",
              "apertureSmallest"));

  static final int MAX_TIMEOUT_MILLIS = 600_000;
  static final int DEFAULT_TIMEOUT_MILLIS = 1_000;
  static final int MAX_RETRIES = 10;
  static final int DEFAULT_RETRIES = 2;
  static final int MAX_SETTLE_MILLIS = 10_000;
  static final int DEFAULT_SETTLE_MILLIS = 200;
  static final int MAX_LAG_MILLIS = 60_000;

  private static final String THIRD_STOPS = "third-stops";
  private static final Set<String> TIMES = Set.of("seconds", "milliseconds", "microseconds");
  private static final Set<String> NONE = Set.of();

  private final ProfileFields root;
  private final boolean canCheckErrors;

  private ProfileReader(ProfileFields root) {
    this.root = root;
    this.canCheckErrors = root.has("errorQuery");
  }

  /**
   * Reads a profile.
   *
   * @param source what to call it in an error
   * @throws IllegalArgumentException if it is wrong: one line that names the field
   */
  static Profile read(String source, JsonNode json) {
    return new ProfileReader(ProfileFields.root(source, json, FIELDS.get("profile"))).profile();
  }

  private Profile profile() {
    if (root.has("$schema")) {
      root.text("$schema", ProfileFields.MAX_TEXT_LENGTH);
    }
    String name = root.text("name", 64);
    if (!name.matches("[a-z0-9]+(-[a-z0-9]+)*")) {
      throw root.wrong("name", "(\"" + name + "\") must be small letters, digits and hyphens");
    }
    String description = root.text("description", ProfileFields.MAX_TEXT_LENGTH);
    root.choice("kind", Map.of("line", "line"));
    Profile.Limits limits = limits(root.child("limits", FIELDS.get("limits")));
    Profile profile =
        new Profile(
            name,
            description,
            line(root.child("line", FIELDS.get("line"))),
            millis(root, "settleMillis", 0, MAX_SETTLE_MILLIS, DEFAULT_SETTLE_MILLIS),
            exchange("greeting", root, NONE, Optional.of("identity")),
            optional("clear", root, NONE, Optional.empty()),
            optional("reset", root, NONE, Optional.empty()),
            root.optionalChild("errorQuery", FIELDS.get("errorQuery")).map(this::errorQuery),
            root.has("refusal")
                ? Optional.of(root.pattern("refusal", Optional.empty()))
                : Optional.empty(),
            commands(root.child("commands", FIELDS.get("commands"))),
            optional("meter", root, NONE, Optional.of("ev")),
            limits,
            millis(root, "releaseLagMillis", 0, MAX_LAG_MILLIS, 0));
    requireReach(profile);
    return profile;
  }

  private static Profile.LineSettings line(ProfileFields fields) {
    Map<String, Profile.Terminator> terminators =
        Map.of(
            "LF",
            Profile.Terminator.LF,
            "CR",
            Profile.Terminator.CR,
            "CRLF",
            Profile.Terminator.CRLF);
    return new Profile.LineSettings(
        fields.integer("baud", 50, 4_000_000),
        fields.integer("dataBits", 7, 8),
        fields.choice(
            "parity",
            Map.of(
                "none",
                Profile.Parity.NONE,
                "even",
                Profile.Parity.EVEN,
                "odd",
                Profile.Parity.ODD)),
        fields.integer("stopBits", 1, 2),
        fields.choice(
            "flowControl",
            Map.of(
                "none",
                Profile.FlowControl.NONE,
                "rtscts",
                Profile.FlowControl.RTSCTS,
                "xonxoff",
                Profile.FlowControl.XONXOFF)),
        fields.choice("sendTerminator", terminators),
        fields.choice("replyTerminator", terminators));
  }

  private Profile.Commands commands(ProfileFields fields) {
    Set<String> shot = Template.SHOT_PARAMETERS;
    Profile.Exchange release = exchange("release", fields, shot, Optional.empty());
    if (release.reply().isEmpty()) {
      throw fields.wrong("release.reply", "is missing: nothing would tell that it was released");
    }
    return new Profile.Commands(
        optional("shutter", fields, shot, Optional.empty()),
        optional("iso", fields, shot, Optional.empty()),
        optional("aperture", fields, shot, Optional.empty()),
        release);
  }

  private Optional<Profile.Exchange> optional(
      String name, ProfileFields parent, Set<String> parameters, Optional<String> group) {
    return parent.has(name)
        ? Optional.of(exchange(name, parent, parameters, group))
        : Optional.empty();
  }

  private Profile.Exchange exchange(
      String name, ProfileFields parent, Set<String> parameters, Optional<String> group) {
    ProfileFields fields = parent.child(name, FIELDS.get("exchange"));
    Optional<String> query =
        fields.has("query")
            ? Optional.of(fields.template("query", parameters))
            : Optional.<String>empty();
    boolean needsReply = query.isPresent() || group.isPresent();
    Optional<ReplyPattern> reply =
        needsReply || fields.has("reply")
            ? Optional.of(fields.pattern("reply", group))
            : Optional.<ReplyPattern>empty();
    boolean checkErrors = fields.flag("checkErrors");
    if (checkErrors && !canCheckErrors) {
      throw fields.wrong("checkErrors", "needs the profile's errorQuery, which is missing");
    }
    return new Profile.Exchange(
        fields.template("send", parameters),
        checkErrors,
        query,
        reply,
        millis(fields, "timeoutMillis", 1, MAX_TIMEOUT_MILLIS, DEFAULT_TIMEOUT_MILLIS),
        fields.integer("retries", 0, MAX_RETRIES, DEFAULT_RETRIES));
  }

  private Profile.ErrorQuery errorQuery(ProfileFields fields) {
    return new Profile.ErrorQuery(
        fields.template("send", NONE), fields.pattern("reply", Optional.of("code")));
  }

  private static Duration millis(
      ProfileFields fields, String name, int least, int most, int otherwise) {
    return Duration.ofMillis(fields.integer(name, least, most, otherwise));
  }

  private static Profile.Limits limits(ProfileFields fields) {
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
  private void requireReach(Profile profile) {
    Set<String> set = new HashSet<>(Template.parametersOf(profile.commands().release().send()));
    profile.commands().shutter().ifPresent(e -> set.addAll(Template.parametersOf(e.send())));
    profile.commands().iso().ifPresent(e -> set.addAll(Template.parametersOf(e.send())));
    profile.commands().aperture().ifPresent(e -> set.addAll(Template.parametersOf(e.send())));
    Profile.Limits limits = profile.limits();
    if (set.stream().noneMatch(TIMES::contains)
        && !limits.shutterShortest().equals(limits.shutterLongest())) {
      throw unset("shutter ({seconds})", "shutterShortestSeconds", "shutterLongestSeconds");
    }
    if (!set.contains("iso") && !limits.isoLowest().equals(limits.isoHighest())) {
      throw unset("ISO ({iso})", "isoLowest", "isoHighest");
    }
    if (!set.contains("aperture") && !limits.apertureWidest().equals(limits.apertureSmallest())) {
      throw unset("aperture ({aperture})", "apertureWidest", "apertureSmallest");
    }
    try {
      profile.cameraRange();
    } catch (IllegalArgumentException e) {
      throw root.wrong("limits", "cannot be met: " + e.getMessage());
    }
  }

  private IllegalArgumentException unset(String what, String least, String most) {
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

package org.scenespan.trigger;

import com.fasterxml.jackson.databind.JsonNode;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

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
              "notices",
              "heartbeat",
              "commands",
              "contacts",
              "halfPressMillis",
              "mirrorSettleMillis",
              "meter",
              "limits",
              "releaseLagMillis",
              "measured"),
          "line",
          Set.of(
              "baud",
              "dataBits",
              "parity",
              "stopBits",
              "flowControl",
              "sendTerminator",
              "replyTerminator",
              "form",
              "checksum",
              "replyBytes",
              "byteOrder"),
          "exchange",
          Set.of("send", "checkErrors", "query", "reply", "timeoutMillis", "retries"),
          "errorQuery",
          Set.of("send", "reply"),
          "heartbeat",
          Set.of("everyMillis", "send", "reply", "timeoutMillis", "retries"),
          "notice",
          Set.of("kind", "pattern"),
          "commands",
          Set.of("shutter", "iso", "aperture", "halfPress", "mirrorUp", "release", "open", "close"),
          "contacts",
          Set.of("release", "halfPress", "timing", "pulseMillis"),
          "limits",
          Set.of(
              "shutterShortestSeconds",
              "shutterLongestSeconds",
              "shutterResolution",
              "isoLowest",
              "isoHighest",
              "apertureWidest",
              "apertureSmallest"),
          "measured",
          Set.of("frames", "answerMillis", "jitterMillis", "exposureErrorMillis"));

  static final int MAX_SETTLE_MILLIS = 10_000;
  static final int DEFAULT_SETTLE_MILLIS = 200;
  static final int MAX_LAG_MILLIS = 60_000;
  static final int MAX_PAUSE_MILLIS = 30_000;
  static final int DEFAULT_PULSE_MILLIS = 200;
  static final int MAX_NOTICES = 16;

  /** The fields that speak, and mean nothing where nobody can be spoken to. */
  private static final List<String> SPEECH =
      List.of(
          "line",
          "greeting",
          "clear",
          "reset",
          "errorQuery",
          "refusal",
          "notices",
          "heartbeat",
          "commands",
          "meter");

  private final ProfileFields root;

  private ProfileReader(ProfileFields root) {
    this.root = root;
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
    Profile.Kind kind =
        root.choice(
            "kind",
            Map.of(
                "line",
                Profile.Kind.LINE,
                "timed",
                Profile.Kind.TIMED,
                "open-close",
                Profile.Kind.OPEN_CLOSE,
                "modem-lines",
                Profile.Kind.MODEM_LINES,
                "release-only",
                Profile.Kind.RELEASE_ONLY));
    boolean speaks = kind != Profile.Kind.MODEM_LINES;
    refuseMisplaced(speaks);
    Profile.Limits limits = LimitsReader.limits(root.child("limits", FIELDS.get("limits")));
    Profile.LineSettings line = speaks ? LineReader.line(root) : Profile.LineSettings.SILENT;
    ExchangeReader exchanges = new ExchangeReader(root.has("errorQuery"), line.form());
    Profile profile =
        new Profile(
            name,
            description,
            kind,
            line,
            millis("settleMillis", MAX_SETTLE_MILLIS, DEFAULT_SETTLE_MILLIS),
            speaks
                ? Optional.of(exchanges.required("greeting", root, Optional.of("identity")))
                : Optional.empty(),
            exchanges.optional("clear", root, Optional.empty()),
            exchanges.optional("reset", root, Optional.empty()),
            root.optionalChild("errorQuery", FIELDS.get("errorQuery")).map(exchanges::errorQuery),
            root.has("refusal")
                ? Optional.of(root.pattern("refusal", Optional.empty()))
                : Optional.empty(),
            root.children("notices", MAX_NOTICES, FIELDS.get("notice")).stream()
                .map(ProfileReader::notice)
                .toList(),
            root.optionalChild("heartbeat", FIELDS.get("heartbeat")).map(exchanges::heartbeat),
            speaks
                ? exchanges.commands(root.child("commands", FIELDS.get("commands")))
                : Profile.Commands.NONE,
            speaks
                ? Optional.empty()
                : Optional.of(contacts(root.child("contacts", FIELDS.get("contacts")))),
            new Profile.Pauses(
                millis("halfPressMillis", MAX_PAUSE_MILLIS, 0),
                millis("mirrorSettleMillis", MAX_PAUSE_MILLIS, 0)),
            exchanges.optional("meter", root, Optional.of("ev")),
            limits,
            millis("releaseLagMillis", MAX_LAG_MILLIS, 0),
            root.optionalChild("measured", FIELDS.get("measured")).map(ProfileReader::measured));
    requireCommands(profile);
    LimitsReader.requireReach(root, profile);
    return profile;
  }

  private void refuseMisplaced(boolean speaks) {
    for (String field : speaks ? List.of("contacts") : SPEECH) {
      if (root.has(field)) {
        throw root.wrong(
            field,
            speaks
                ? "is only for the kind modem-lines"
                : "is not for the kind modem-lines, to which nobody speaks");
      }
    }
  }

  /** The commands that belong to the kind, and no others. */
  private void requireCommands(Profile profile) {
    if (profile.kind() == Profile.Kind.MODEM_LINES) {
      return;
    }
    Profile.Commands commands = profile.commands();
    boolean opens = profile.kind() == Profile.Kind.OPEN_CLOSE;
    require("release", commands.release().isPresent(), !opens);
    require("open", commands.open().isPresent(), opens);
    require("close", commands.close().isPresent(), opens);
    boolean sets = profile.kind() == Profile.Kind.LINE;
    refuse("shutter", commands.shutter().isPresent(), sets);
    boolean keeps = profile.kind() == Profile.Kind.RELEASE_ONLY;
    refuse("iso", commands.iso().isPresent(), !keeps);
    refuse("aperture", commands.aperture().isPresent(), !keeps);
    if (profile.kind() == Profile.Kind.TIMED
        && Template.parametersOf(commands.release().orElseThrow().send()).stream()
            .noneMatch(name -> name.endsWith("seconds"))) {
      throw root.wrong(
          "commands.release.send", "must say for how long: {seconds}, {milliseconds} or so");
    }
  }

  private void require(String command, boolean there, boolean wanted) {
    if (wanted && !there) {
      throw root.wrong("commands." + command, "is missing; this kind of trigger needs it");
    }
    refuse(command, there, wanted);
  }

  private void refuse(String command, boolean there, boolean allowed) {
    if (there && !allowed) {
      throw root.wrong("commands." + command, "does not belong to this kind of trigger");
    }
  }

  private static Profile.Notice notice(ProfileFields fields) {
    String kind = fields.text("kind", 32);
    if (!kind.matches("[a-z0-9]+(-[a-z0-9]+)*")) {
      throw fields.wrong("kind", "(\"" + kind + "\") must be small letters, digits and hyphens");
    }
    return new Profile.Notice(kind, fields.pattern("pattern", Optional.empty()));
  }

  private static Profile.Contacts contacts(ProfileFields fields) {
    Map<String, ModemLine> lines = Map.of("RTS", ModemLine.RTS, "DTR", ModemLine.DTR);
    ModemLine release = fields.choice("release", lines);
    Optional<ModemLine> halfPress =
        fields.has("halfPress") ? Optional.of(fields.choice("halfPress", lines)) : Optional.empty();
    if (halfPress.isPresent() && halfPress.get() == release) {
      throw fields.wrong("halfPress", "must be another line than contacts.release");
    }
    return new Profile.Contacts(
        release,
        halfPress,
        fields.choice("timing", Map.of("bulb", true, "press", false)),
        Duration.ofMillis(
            fields.integer("pulseMillis", 1, MAX_PAUSE_MILLIS, DEFAULT_PULSE_MILLIS)));
  }

  private static Profile.Measured measured(ProfileFields fields) {
    return new Profile.Measured(
        fields.integer("frames", 1, 1000),
        fields.number("answerMillis", 0, 600_000),
        fields.number("jitterMillis", 0, 600_000),
        fields.has("exposureErrorMillis")
            ? Optional.of(fields.number("exposureErrorMillis", -600_000, 600_000))
            : Optional.empty());
  }

  private Duration millis(String name, int most, int otherwise) {
    return Duration.ofMillis(root.integer(name, 0, most, otherwise));
  }
}

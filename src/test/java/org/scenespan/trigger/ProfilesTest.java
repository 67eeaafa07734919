package org.scenespan.trigger;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.math.BigDecimal;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.Iterator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.scenespan.light.Aperture;
import org.scenespan.light.CameraRange;
import org.scenespan.light.Iso;

class ProfilesTest {
  private static final String SHIPPED =
      "modem-lines, open-close, reference-trigger, reference-trigger-contact, release-only,"
          + " timed-contact, timed-contact-bytes";

  @TempDir Path own;

  /** The profile must be refused; with what words. */
  private static String errorOf(JsonNode json) {
    return assertThrows(IllegalArgumentException.class, () -> ProfileReader.read("x.json", json))
        .getMessage();
  }

  private static String errorOf(String text) {
    return assertThrows(
            IllegalArgumentException.class, () -> Profiles.parse("x.json", text.getBytes(UTF_8)))
        .getMessage();
  }

  @Test
  void theReferenceTriggerCanSetWhatItsProtocolSays() {
    CameraRange range = new Profiles(Optional.empty()).load("reference-trigger").cameraRange();
    assertEquals("1/8000 s", range.shutters().first().toString());
    assertEquals("30 s", range.shutters().last().toString());
    assertEquals("ISO 100", range.lowestIso().toString());
    assertEquals("ISO 25600", range.highestIso().toString());
    assertEquals("f/1.4", range.widest().toString());
    assertEquals("f/22", range.smallest().toString());
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      quoteCharacter = '`',
      value = {
        "/commands/release/timeoutMillis | -5 | commands.release.timeoutMillis (-5) must be 1 to 600000",
        "/commands/release/timeoutMillis | 1.5 | commands.release.timeoutMillis (1.5) must be 1 to 600000",
        "/commands/release/timeoutMillis | \"1s\" | commands.release.timeoutMillis (\"1s\") must be 1 to 600000",
        "/commands/release/timeoutMillis | 1e99 | commands.release.timeoutMillis (1.0E99) must be 1 to 600000",
        "/greeting/retries | 11 | greeting.retries (11) must be 0 to 10",
        "/name | \"My Trigger\" | name (\"My Trigger\") must be small letters, digits and hyphens",
        "/name | \"  \" | name (\"  \") must be a text of 1 to 64 characters",
        "/kind | \"contact\" | kind (\"contact\") must be line or modem-lines or open-close or release-only or timed",
        "/line | 9600 | line (9600) must be an object",
        "/line/baud | 0 | line.baud (0) must be 50 to 4000000",
        "/line/parity | \"mark\" | line.parity (\"mark\") must be even or none or odd",
        "/line/flowControl | null | line.flowControl (null) must be none or rtscts or xonxoff",
        "/line/sendTerminator | \"\\n\" | line.sendTerminator (\"\\n\") must be CR or CRLF or LF or none",
        "/line/bauds | 1 | line.bauds is not a field; known here: baud, byteOrder, checksum, dataBits, flowControl, form, parity, replyBytes, replyTerminator, sendTerminator, stopBits",
        "/commands/focus | {} | commands.focus is not a field; known here: aperture, close, halfPress, iso, mirrorUp, open, release, shutter",
        "/commands/iso/send | \"ISO {gain}\" | commands.iso.send uses {gain}; known here: aperture, iso, microseconds, milliseconds, seconds, shot",
        "/greeting/send | \"HI {shot}\" | greeting.send uses {shot}; known here: none",
        "/greeting/send | \"*IDN?\\n\" | greeting.send must be printable ASCII without a line end; the terminator is added",
        "/greeting/reply | \"(\" | greeting.reply is not a regular expression: Unclosed group",
        "/greeting/reply | \".*\" | greeting.reply must capture the group (?<identity>…)",
        "/meter/reply | \"(?<value>.*)\" | meter.reply must capture the group (?<ev>…)",
        "/errorQuery/reply | \"\\\\(?<code>.*\" | errorQuery.reply must capture the group (?<code>…)",
        "/reset/checkErrors | \"yes\" | reset.checkErrors (\"yes\") must be true or false",
        "/limits/isoLowest | 51200 | limits.isoLowest must not be more than limits.isoHighest",
        "/limits/shutterShortestSeconds | 60 | limits.shutterShortestSeconds must not be more than limits.shutterLongestSeconds",
        "/limits/apertureWidest | 32 | limits.apertureWidest must not be more than limits.apertureSmallest (f-numbers)",
        "/limits/apertureWidest | 0.1 | limits.apertureWidest (0.1) must be 0.5 to 128",
        "/limits/shutterResolution | \"halves\" | limits.shutterResolution (\"halves\") must be third-stops",
        "/limits/shutterResolution | 0 | limits.shutterResolution (0) must be 0.000001 to 60",
        "/limits/shutterResolution | 40 | limits cannot be met: resolution (40.0 s) must be 0 or more and less than the longest shutter",
        "/settleMillis | 10001 | settleMillis (10001) must be 0 to 10000",
        "/releaseLagMillis | -1 | releaseLagMillis (-1) must be 0 to 60000",
      })
  void aWrongFieldIsNamedWithWhatItMustBe(String pointer, String value, String message)
      throws IOException {
    JsonNode json = ProfileTexts.with(pointer, ProfileTexts.JSON.readTree(value));
    assertEquals("profile \"x.json\": " + message, errorOf(json));
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "/line/baud | line.baud is missing; it must be 50 to 4000000",
        "/greeting | greeting is missing; it must be an object",
        "/commands/release/send | commands.release.send is missing; it must be a text of 1 to 200 characters",
        "/commands/iso/reply | commands.iso.reply is missing; it must be a text of 1 to 500 characters",
        "/errorQuery | reset.checkErrors needs the profile's errorQuery, which is missing",
        "/commands/iso | commands has nothing that sets the ISO ({iso}); add it, or make limits.isoLowest and limits.isoHighest the same",
        "/commands/shutter | commands has nothing that sets the shutter ({seconds}); add it, or make limits.shutterShortestSeconds and limits.shutterLongestSeconds the same",
        "/commands/aperture | commands has nothing that sets the aperture ({aperture}); add it, or make limits.apertureWidest and limits.apertureSmallest the same",
      })
  void aMissingFieldIsNamed(String pointer, String message) {
    assertEquals("profile \"x.json\": " + message, errorOf(ProfileTexts.without(pointer)));
  }

  @Test
  void aReleaseMustHaveAnAnswer() {
    JsonNode json = ProfileTexts.with("/commands/release", Map.of("send", "GO {shot}"));
    assertEquals(
        "profile \"x.json\": commands.release.reply is missing:"
            + " nothing would tell that it was released",
        errorOf(json));
  }

  /** Found by fuzzing: a field's name went into the message with its line ends. */
  @Test
  void aFieldWithALineEndInItsNameIsSaidInOneLine() {
    JsonNode json = ProfileTexts.with("/bau\r\n\u001b[2Jd", 1);
    String message = errorOf(json);
    assertTrue(message.startsWith("profile \"x.json\": bau???[2Jd is not a field;"), message);
  }

  @Test
  void whatIsNoJsonIsSaidInOneLine() {
    String[] texts = {
      "",
      "[]",
      "{",
      "{} {}",
      "{\"name\":\"a\",\"name\":\"b\"}",
      "\u0000",
      "nul",
      "\u0000\u0000\u00fe\u00ff{"
    };
    for (String text : texts) {
      String message = errorOf(text);
      assertTrue(message.startsWith("profile \"x.json\": "), message);
      assertEquals(1, message.lines().count(), message);
    }
    assertEquals("profile \"x.json\": longer than 65536 bytes", errorOf(" ".repeat(70_000)));
  }

  @Test
  void aUsersOwnProfileComesBeforeThePackedOne() throws IOException {
    Files.writeString(
        own.resolve("reference-trigger.json"),
        ProfileTexts.with("/description", "My own.").toString());
    Files.writeString(
        own.resolve("bulb-box.json"), ProfileTexts.with("/name", "bulb-box").toString());
    Profiles profiles = new Profiles(Optional.of(own));
    assertEquals("bulb-box, " + SHIPPED, String.join(", ", profiles.names()));
    assertEquals("My own.", profiles.load("reference-trigger").description());
    assertEquals("bulb-box", profiles.load(own.resolve("bulb-box.json").toString()).name());
    assertEquals("bulb-box", profiles.load("bulb-box").name());
    Profiles without = new Profiles(Optional.of(own.resolve("none")));
    assertEquals(SHIPPED, String.join(", ", without.names()));
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "nothing | no profile \"nothing\"; known: SHIPPED, or give a .json file",
        "../x | no profile \"../x\"; known: SHIPPED, or give a .json file",
        "no/such.json | profile \"no/such.json\": no such file; known names: SHIPPED",
      })
  void anUnknownProfileIsSaidWithTheKnownOnes(String name, String message) {
    Profiles profiles = new Profiles(Optional.empty());
    assertEquals(
        message.replace("SHIPPED", SHIPPED),
        assertThrows(IllegalArgumentException.class, () -> profiles.load(name)).getMessage());
  }

  @Test
  void schemaAndValidatorKnowTheSameFields() {
    JsonNode schema = ProfileTexts.schema();
    Set<String> objects = new HashSet<>(Set.of("profile"));
    schema.get("$defs").fieldNames().forEachRemaining(objects::add);
    assertEquals(ProfileReader.FIELDS.keySet(), objects);
    for (String object : objects) {
      JsonNode definition = definition(schema, object);
      Set<String> properties = new HashSet<>();
      definition.get("properties").fieldNames().forEachRemaining(properties::add);
      assertEquals(ProfileReader.FIELDS.get(object), properties, object);
      assertFalse(definition.get("additionalProperties").booleanValue(), object);
    }
  }

  private static JsonNode definition(JsonNode schema, String object) {
    return object.equals("profile") ? schema : schema.at("/$defs/" + object);
  }

  @ParameterizedTest
  @CsvSource({
    "reference-trigger, 70",
    "timed-contact, 60",
    "timed-contact-bytes, 50",
    "open-close, 60",
    "modem-lines, 25",
    "release-only, 50",
  })
  void schemaAndValidatorRequireTheSameFieldsAndAllowTheSameRanges(String name, int checks) {
    ObjectNode profile = ProfileTexts.shipped(name);
    profile.putObject("measured").put("frames", 3).put("answerMillis", 80).put("jitterMillis", 2);
    int made = checkAgainstSchema(profile, "profile", "");
    assertTrue(made >= checks, made + " checks");
  }

  /** Walks a shipped profile along the schema; the number of checks made. */
  private static int checkAgainstSchema(ObjectNode profile, String object, String pointer) {
    JsonNode schema = ProfileTexts.schema();
    JsonNode definition = definition(schema, object);
    int checks = 0;
    Set<String> required = new HashSet<>();
    definition.get("required").forEach(name -> required.add(name.textValue()));
    if (pointer.isEmpty()) {
      requiredOfKind(schema, profile.get("kind").textValue()).forEach(required::add);
    }
    for (Iterator<String> names = definition.get("properties").fieldNames(); names.hasNext(); ) {
      String name = names.next();
      String field = pointer + "/" + name;
      JsonNode property = definition.get("properties").get(name);
      if (required.contains(name)) {
        String path = field.substring(1).replace('/', '.');
        String error = errorOf(ProfileTexts.without(profile, field));
        assertTrue(error.contains(path + " is missing"), error);
        checks++;
      }
      checks += checkRange(profile, field, property);
      if (property.has("$ref") && !profile.at(field).isMissingNode()) {
        checks += checkAgainstSchema(profile, property.get("$ref").textValue().substring(8), field);
      }
    }
    return checks;
  }

  /** What the schema's first rule requires of the kind beyond the common fields. */
  private static List<String> requiredOfKind(JsonNode schema, String kind) {
    JsonNode rule = schema.at("/allOf/0");
    boolean isThat = rule.at("/if/properties/kind/const").textValue().equals(kind);
    List<String> names = new ArrayList<>();
    rule.get(isThat ? "then" : "else").get("required").forEach(name -> names.add(name.textValue()));
    return names;
  }

  /** Just outside a range the validator must name this range. */
  private static int checkRange(ObjectNode profile, String field, JsonNode property) {
    if (!property.has("minimum")) {
      return 0;
    }
    String least = property.get("minimum").decimalValue().stripTrailingZeros().toPlainString();
    String most = property.get("maximum").decimalValue().stripTrailingZeros().toPlainString();
    BigDecimal tiny = new BigDecimal(property.get("type").textValue().equals("integer") ? 1 : 1e-9);
    String expected = "must be " + least + " to " + most;
    for (BigDecimal outside :
        List.of(new BigDecimal(least).subtract(tiny), new BigDecimal(most).add(BigDecimal.ONE))) {
      JsonNode value =
          outside.scale() <= 0
              ? ProfileTexts.JSON.valueToTree(outside.intValueExact())
              : ProfileTexts.JSON.valueToTree(outside.doubleValue());
      String error = errorOf(ProfileTexts.with(profile, field, value));
      assertTrue(error.contains(expected), error);
    }
    return 2;
  }

  /** What the schema forbids of a kind, the validator refuses, too. */
  @Test
  void schemaAndValidatorForbidTheSameFields() {
    int checks = 0;
    for (JsonNode rule : ProfileTexts.schema().get("allOf")) {
      String kind = rule.at("/if/properties/kind/const").textValue();
      for (String name : new Profiles(Optional.empty()).names()) {
        ObjectNode profile = ProfileTexts.shipped(name);
        boolean applies = profile.get("kind").textValue().equals(kind);
        JsonNode then = rule.path(applies ? "then" : "else");
        checks += checkForbidden(profile, "", then.path("properties"));
        checks += checkForbidden(profile, "/commands", then.at("/properties/commands/properties"));
      }
    }
    assertTrue(checks >= 30, checks + " checks");
  }

  private static int checkForbidden(ObjectNode profile, String parent, JsonNode properties) {
    int checks = 0;
    for (Iterator<String> names = properties.fieldNames(); names.hasNext(); ) {
      String name = names.next();
      if (properties.get(name).isBoolean() && !profile.at(parent).isMissingNode()) {
        String field = parent + "/" + name;
        Object value = parent.isEmpty() ? Map.of() : Map.of("send", "A5", "reply", "A5 00");
        String error = errorOf(ProfileTexts.with(profile, field, value));
        assertTrue(
            error.contains(field.substring(1).replace('/', '.') + " is ")
                || error.contains(field.substring(1).replace('/', '.') + " does not belong"),
            error);
        checks++;
      }
    }
    return checks;
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      quoteCharacter = '`',
      value = {
        "timed-contact | /commands/release/send | \"GO {shot}\" | commands.release.send must say for how long: {seconds}, {milliseconds} or so",
        "timed-contact | /commands/release | {\"send\":\"B{milliseconds}\"} | commands.release.reply is missing: nothing would tell that it was released",
        "timed-contact | /limits/isoHighest | 200 | commands has nothing that sets the ISO ({iso}); add it, or make limits.isoLowest and limits.isoHighest the same",
        "timed-contact | /notices | [{\"kind\":\"A b\",\"pattern\":\"x\"}] | notices[0].kind (\"A b\") must be small letters, digits and hyphens",
        "timed-contact | /notices | [{\"kind\":\"b\",\"pattern\":\"(\"}] | notices[0].pattern is not a regular expression: Unclosed group",
        "timed-contact | /notices | [7] | notices[0] (7) must be an object",
        "timed-contact | /notices | {} | notices (an object) must be a list of at most 16 objects",
        "timed-contact | /heartbeat/reply | \"(\" | heartbeat.reply is not a regular expression: Unclosed group",
        "timed-contact | /line/checksum | \"crc8\" | line.checksum (\"crc8\") must be crc16-ccitt-false or crc16-modbus or none or xor",
        "timed-contact | /line/replyBytes | 4 | line.replyBytes needs line.replyTerminator \"none\"",
        "timed-contact | /line/replyTerminator | \"none\" | line.replyBytes is missing: with line.replyTerminator \"none\" only it tells a reply's end",
        "timed-contact | /commands/release/send | \"B{milliseconds:4}\" | commands.release.send gives {milliseconds} a number of bytes; that is for line.form hex",
        "timed-contact-bytes | /commands/release/send | \"A5 {milliseconds}\" | commands.release.send must say how many bytes {milliseconds} takes, 1 to 8, as in {shot:2}",
        "timed-contact-bytes | /limits/shutterLongestSeconds | 4294968 | limits.shutterLongestSeconds (4294968) must be 0.000001 to 86400",
        "timed-contact-bytes | /commands/release/send | \"A5 {milliseconds:1}\" | commands has too few bytes for {milliseconds:1} at its limit",
        "timed-contact-bytes | /commands/release/send | \"A5 {seconds:4}\" | commands.release.send uses {seconds}; known here: iso, microseconds, milliseconds, shot",
        "timed-contact-bytes | /greeting/send | \"A5 0\" | greeting.send must be bytes in pairs of hexadecimal digits, as in A5 01 {shot:2}",
        "timed-contact-bytes | /line/dataBits | 7 | line.dataBits (7) must be 8 for messages of bytes",
        "timed-contact-bytes | /line/flowControl | \"xonxoff\" | line.flowControl (\"xonxoff\") would take two of the bytes away",
        "open-close | /commands/close | {\"send\":\"C\"} | commands.close.reply is missing: nothing would tell that the shutter is closed",
        "open-close | /commands/open | null | commands.open (null) must be an object",
        "modem-lines | /contacts/halfPress | \"RTS\" | contacts.halfPress must be another line than contacts.release",
        "modem-lines | /contacts/release | \"CTS\" | contacts.release (\"CTS\") must be DTR or RTS",
        "modem-lines | /contacts/timing | 5 | contacts.timing (5) must be bulb or press",
      })
  void aWrongFieldOfAnotherKindIsNamed(String name, String pointer, String value, String message)
      throws IOException {
    JsonNode json =
        ProfileTexts.with(ProfileTexts.shipped(name), pointer, ProfileTexts.JSON.readTree(value));
    assertEquals("profile \"x.json\": " + message, errorOf(json));
  }

  @Test
  void anOptionalFieldMayBeLeftOut() {
    for (String field : List.of("$schema", "settleMillis", "clear", "reset", "meter")) {
      assertEquals("reference-trigger", ProfileTexts.profileWithout(field).name());
    }
    Profile profile = ProfileTexts.profileWithout("settleMillis");
    assertEquals(ProfileReader.DEFAULT_SETTLE_MILLIS, profile.settle().toMillis());
    // The defaults are written in the schema, too.
    JsonNode schema = ProfileTexts.schema();
    assertEquals(
        ProfileReader.DEFAULT_SETTLE_MILLIS, schema.at("/properties/settleMillis/default").asInt());
    JsonNode exchange = schema.at("/$defs/exchange/properties");
    assertEquals(
        ExchangeReader.DEFAULT_TIMEOUT_MILLIS, exchange.at("/timeoutMillis/default").asInt());
    assertEquals(ExchangeReader.DEFAULT_RETRIES, exchange.at("/retries/default").asInt());
  }

  @Test
  void aTriggerThatTimesByItselfNeedsNoOtherCommand() {
    Profile profile =
        ProfileReader.read(
            "x.json",
            ProfileTexts.JSON.valueToTree(
                Map.of(
                    "name",
                    "bulb-box",
                    "description",
                    "Holds the release for a time.",
                    "kind",
                    "line",
                    "line",
                    ProfileTexts.reference().get("line"),
                    "greeting",
                    Map.of("send", "V", "reply", "(?<identity>.+)"),
                    "commands",
                    Map.of("release", Map.of("send", "B{milliseconds}", "reply", "OK")),
                    "limits",
                    Map.of(
                        "shutterShortestSeconds",
                        0.1,
                        "shutterLongestSeconds",
                        3600,
                        "shutterResolution",
                        0.001,
                        "isoLowest",
                        100,
                        "isoHighest",
                        100,
                        "apertureWidest",
                        8,
                        "apertureSmallest",
                        8))));
    assertEquals(0.001, profile.cameraRange().shutters().stepSeconds());
    assertEquals(3600, profile.cameraRange().shutters().last().seconds(), 1e-9);
  }

  private static final Profile.Measured FOUND =
      new Profile.Measured(3, 61.4, 2.5, Optional.of(-0.5));

  @Test
  void whatWasFoundIsKeptInAProfileOfOnesOwn() throws IOException {
    Path directory = own.resolve("mine");
    Profiles profiles = new Profiles(Optional.of(directory));
    Path file = profiles.learn("timed-contact", "my-box", FOUND, false);
    assertEquals(directory.resolve("my-box.json"), file);
    Profile learned = profiles.load("my-box");
    assertEquals(Optional.of(FOUND), learned.measured());
    assertEquals(61, learned.releaseLag().toMillis());
    assertEquals(
        profiles.load("timed-contact").commands().release().map(Profile.Exchange::send),
        learned.commands().release().map(Profile.Exchange::send));
    // Nothing else is left in the directory.
    try (Stream<Path> files = Files.list(directory)) {
      assertEquals(List.of(file), files.toList());
    }
    // One that was learned can be learned from, and comes before the shipped one of its name.
    profiles.learn(file.toString(), "timed-contact", FOUND, false);
    assertEquals(61, profiles.load("timed-contact").releaseLag().toMillis());
    profiles.learn("timed-contact", "timed-contact", FOUND, true);
  }

  @Test
  void whatIsThereIsNotWrittenOver() throws IOException {
    Profiles profiles = new Profiles(Optional.of(own));
    Path file = Files.writeString(own.resolve("my-box.json"), "mine");
    String message =
        assertThrows(
                IllegalArgumentException.class,
                () -> profiles.learn("timed-contact", "my-box", FOUND, false))
            .getMessage();
    assertEquals(
        "you have a profile \"" + file + "\" already; give --replace, or another --name", message);
    assertEquals("mine", Files.readString(file));
    for (String name : List.of("My Box", "../x", "")) {
      assertThrows(
          IllegalArgumentException.class, () -> profiles.learn("timed-contact", name, FOUND, true));
    }
    Profiles shipped = new Profiles(Optional.of(Path.of("device-profiles")));
    assertEquals(
        "\"device-profiles\" holds the shipped profiles; give a directory of your own",
        assertThrows(
                IllegalArgumentException.class,
                () -> shipped.learn("timed-contact", "timed-contact", FOUND, true))
            .getMessage());
  }

  @Test
  void whatIsSetByHandIsStatedOrGiven() {
    Profile box = new Profiles(Optional.empty()).load("timed-contact");
    Profile set = box.byHand(Optional.of(Iso.ofNominal(400)), Optional.of(Aperture.ofNominal(11)));
    assertEquals("ISO 400", set.cameraRange().lowestIso().toString());
    assertEquals("f/11", set.cameraRange().widest().toString());
    Profile reference = new Profiles(Optional.empty()).load("reference-trigger");
    assertEquals(reference, reference.byHand(Optional.of(Iso.ofNominal(400)), Optional.empty()));
  }

  @Test
  void theExampleInTheDocumentIsAProfile() throws IOException {
    String document = Files.readString(Path.of("docs", "profile-format.md"));
    int from = document.indexOf("```json\n") + 8;
    String example = document.substring(from, document.indexOf("```", from));
    assertEquals("bulb-box", Profiles.parse("x.json", example.getBytes(UTF_8)).name());
  }
}

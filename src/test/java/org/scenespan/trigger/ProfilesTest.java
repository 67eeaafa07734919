package org.scenespan.trigger;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.math.BigDecimal;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashSet;
import java.util.Iterator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.scenespan.light.CameraRange;

class ProfilesTest {
  private static final String SHIPPED = "reference-trigger, reference-trigger-contact";

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
        "/kind | \"contact\" | kind (\"contact\") must be line",
        "/line | 9600 | line (9600) must be an object",
        "/line/baud | 0 | line.baud (0) must be 50 to 4000000",
        "/line/parity | \"mark\" | line.parity (\"mark\") must be even or none or odd",
        "/line/flowControl | null | line.flowControl (null) must be none or rtscts or xonxoff",
        "/line/sendTerminator | \"\\n\" | line.sendTerminator (\"\\n\") must be CR or CRLF or LF",
        "/line/bauds | 1 | line.bauds is not a field; known here: baud, dataBits, flowControl, parity, replyTerminator, sendTerminator, stopBits",
        "/commands/focus | {} | commands.focus is not a field; known here: aperture, iso, release, shutter",
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

  @Test
  void schemaAndValidatorRequireTheSameFieldsAndAllowTheSameRanges() {
    assertTrue(checkAgainstSchema("profile", "") > 60);
  }

  /** Walks the shipped profile along the schema; the number of checks made. */
  private static int checkAgainstSchema(String object, String pointer) {
    JsonNode schema = ProfileTexts.schema();
    JsonNode definition = definition(schema, object);
    int checks = 0;
    Set<String> required = new HashSet<>();
    definition.get("required").forEach(name -> required.add(name.textValue()));
    for (Iterator<String> names = definition.get("properties").fieldNames(); names.hasNext(); ) {
      String name = names.next();
      String field = pointer + "/" + name;
      JsonNode property = definition.get("properties").get(name);
      if (required.contains(name)) {
        String path = field.substring(1).replace('/', '.');
        assertTrue(errorOf(ProfileTexts.without(field)).contains(path + " is missing"), field);
        checks++;
      }
      checks += checkRange(field, property);
      if (property.has("$ref") && !ProfileTexts.reference().at(field).isMissingNode()) {
        checks += checkAgainstSchema(property.get("$ref").textValue().substring(8), field);
      }
    }
    return checks;
  }

  /** Just outside a range the validator must name this range. */
  private static int checkRange(String field, JsonNode property) {
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
      assertTrue(errorOf(ProfileTexts.with(field, value)).contains(expected), field);
    }
    return 2;
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
        ProfileReader.DEFAULT_TIMEOUT_MILLIS, exchange.at("/timeoutMillis/default").asInt());
    assertEquals(ProfileReader.DEFAULT_RETRIES, exchange.at("/retries/default").asInt());
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

  @Test
  void theExampleInTheDocumentIsAProfile() throws IOException {
    String document = Files.readString(Path.of("docs", "profile-format.md"));
    int from = document.indexOf("```json\n") + 8;
    String example = document.substring(from, document.indexOf("```", from));
    assertEquals("bulb-box", Profiles.parse("x.json", example.getBytes(UTF_8)).name());
  }
}

package org.scenespan.trigger;

import static java.nio.charset.StandardCharsets.ISO_8859_1;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.time.Instant;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.scenespan.session.Input;

/** A release with whatever is set on the camera. */
class PlainReleaseTest {
  private static final Instant NOW = Instant.parse("2026-03-01T05:00:00Z");

  private static Profile packed(String name) {
    return new Profiles(Optional.empty()).load(name);
  }

  @ParameterizedTest
  @CsvSource({
    "release-only, true",
    "reference-trigger, true",
    "timed-contact, false",
    "timed-contact-bytes, false",
    "open-close, false",
    "modem-lines, false"
  })
  void isHadWhereNoExposureHasToBeTold(String name, boolean plain) {
    assertEquals(plain, packed(name).isPlainlyReleased());
  }

  private static String said(Dialogue dialogue, String... replies) {
    StringBuilder said = new StringBuilder();
    for (String reply : replies) {
      said.append(new String(dialogue.takeOutput(), ISO_8859_1).replace("\n", "|"));
      dialogue.receive((reply + "\n").getBytes(ISO_8859_1), NOW);
    }
    return said.append(new String(dialogue.takeOutput(), ISO_8859_1).replace("\n", "|")).toString();
  }

  @Test
  void setsNothing() {
    Dialogue dialogue = new Dialogue(packed("reference-trigger"));
    dialogue.begin(new Order.Press(7), NOW);
    assertEquals(
        "*CLS|TRIGger:RELease 7|SYSTem:ERRor?|TRIGger:DONE?|",
        said(dialogue, "0,\"No error\"", "7"));
    assertEquals(
        Optional.of(new Outcome.Acknowledged(Map.of("shot", "7"))), dialogue.takeOutcome());
  }

  @Test
  void anotherTriggerRefusesItBeforeAByteLeaves() {
    Dialogue dialogue = new Dialogue(packed("timed-contact"));
    dialogue.begin(new Order.Press(7), NOW);
    assertEquals("", said(dialogue));
    assertEquals(
        new Input.ReleaseRefused(7, "the profile timed-contact has no such command"),
        TriggerInputs.of(new Order.Press(7), dialogue.takeOutcome().orElseThrow()));
  }

  @Test
  void namesItsShot() {
    assertThrows(IllegalArgumentException.class, () -> new Order.Press(0));
  }
}

package org.scenespan.trigger;

import static java.nio.charset.StandardCharsets.ISO_8859_1;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.scenespan.light.Aperture;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;
import org.scenespan.session.Input;

/** The kinds of trigger beyond the reference one, and what is common to them. */
class KindsTest {
  private static final Instant START = Instant.parse("2026-03-01T05:00:00Z");
  private static final Order.Fire TWO_SECONDS =
      new Order.Fire(7, new Exposure(Shutter.ofThird(3), Aperture.ofThird(18), Iso.ofThird(0)));

  private Instant now = START;

  private static Dialogue dialogue(ObjectNode profile) {
    return new Dialogue(ProfileReader.read("x.json", profile));
  }

  private static String sent(Dialogue dialogue) {
    return new String(dialogue.takeOutput(), ISO_8859_1);
  }

  private void hear(Dialogue dialogue, String text) {
    dialogue.receive(text.getBytes(ISO_8859_1), now);
  }

  private void passUntilDue(Dialogue dialogue) {
    now = dialogue.nextDue().orElseThrow();
    dialogue.tick(now);
  }

  /** Every contact that was switched, with how many milliseconds after the start. */
  private List<String> switched(Dialogue dialogue) {
    List<String> all = new ArrayList<>();
    while (true) {
      for (Switching contact : dialogue.takeSwitchings()) {
        long millis = Duration.between(START, now).toMillis();
        all.add(millis + " " + contact.line() + (contact.closed() ? "+" : "-"));
      }
      if (!dialogue.isBusy()) {
        return all;
      }
      passUntilDue(dialogue);
    }
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      nullValues = "-",
      value = {
        // Half-press for half a second, release for two.
        "bulb | 500 | 0 | 0 DTR+, 500 RTS+, 2500 RTS-, 2500 DTR-",
        "bulb | 0 | 0 | 0 DTR+, 0 RTS+, 2000 RTS-, 2000 DTR-",
        // The mirror goes up with a press of 200 ms and settles for two seconds.
        "bulb | 500 | 2000 | 0 DTR+, 500 RTS+, 700 RTS-, 2700 RTS+, 4700 RTS-, 4700 DTR-",
        // The camera times: two presses.
        "press | 500 | 2000 | 0 DTR+, 500 RTS+, 700 RTS-, 2700 RTS+, 2900 RTS-, 2900 DTR-",
        "press | 500 | 0 | 0 DTR+, 500 RTS+, 700 RTS-, 700 DTR-",
      })
  void modemLinesAreSwitchedInTime(String timing, int halfPress, int mirror, String switched) {
    ObjectNode profile = ProfileTexts.shipped("modem-lines");
    profile.put("halfPressMillis", halfPress).put("mirrorSettleMillis", mirror);
    ((ObjectNode) profile.get("contacts")).put("timing", timing);
    Dialogue dialogue = dialogue(profile);
    dialogue.begin(TWO_SECONDS, now);
    assertEquals(switched, String.join(", ", switched(dialogue)));
    assertEquals(Optional.of(new Outcome.Acknowledged(Map.of())), dialogue.takeOutcome());
    assertEquals("", sent(dialogue));
  }

  @Test
  void aReleaseAloneNeedsNoHalfPress() {
    ObjectNode profile = ProfileTexts.shipped("modem-lines");
    ((ObjectNode) profile.get("contacts")).put("release", "DTR").remove("halfPress");
    profile.put("halfPressMillis", 0);
    Dialogue dialogue = dialogue(profile);
    dialogue.begin(TWO_SECONDS, now);
    assertEquals("0 DTR+, 2000 DTR-", String.join(", ", switched(dialogue)));
  }

  @Test
  void whoGoesAwayInTheMiddleOpensTheContacts() {
    Dialogue dialogue = dialogue(ProfileTexts.shipped("modem-lines"));
    dialogue.begin(TWO_SECONDS, now);
    passUntilDue(dialogue);
    assertEquals(2, dialogue.takeSwitchings().size());
    dialogue.letGo();
    assertEquals(
        List.of(new Switching(ModemLine.RTS, false), new Switching(ModemLine.DTR, false)),
        dialogue.takeSwitchings());
    dialogue.letGo();
    assertEquals(List.of(), dialogue.takeSwitchings());
  }

  @Test
  void whoGoesAwayInTheMiddleClosesTheShutter() {
    Dialogue dialogue = dialogue(plainOpenClose());
    dialogue.letGo();
    assertEquals("", sent(dialogue));
    dialogue.begin(TWO_SECONDS, now);
    assertEquals("OPEN 7\n", sent(dialogue));
    dialogue.letGo();
    assertEquals("CLOSE 7\n", sent(dialogue));
  }

  @Test
  void aLostPortLeavesAnOpenedShutterUnknown() {
    Dialogue dialogue = dialogue(plainOpenClose());
    dialogue.begin(TWO_SECONDS, now);
    hear(dialogue, "OPENED 7 100\n");
    dialogue.abandon("the port is gone");
    assertEquals(Optional.of(new Outcome.Lost("the port is gone")), dialogue.takeOutcome());
  }

  private static ObjectNode plainOpenClose() {
    return ProfileTexts.with(ProfileTexts.shipped("open-close"), "/line/checksum", "none");
  }

  @Test
  void anUnansweredClosingIsAskedAgainAndThenSaid() {
    Dialogue dialogue = dialogue(plainOpenClose());
    dialogue.begin(TWO_SECONDS, now);
    hear(dialogue, "OPENED 7 100\n");
    StringBuilder all = new StringBuilder(sent(dialogue));
    while (dialogue.isBusy()) {
      passUntilDue(dialogue);
      all.append(sent(dialogue));
    }
    assertEquals("OPEN 7\n" + "CLOSE 7\n".repeat(6), all.toString());
    assertEquals(
        Optional.of(new Outcome.Lost("no answer to \"CLOSE 7\" within 500 ms (asked 6 times)")),
        dialogue.takeOutcome());
  }

  @Test
  void theHostTimesFromTheCommandAndNotFromItsAnswer() {
    Dialogue dialogue = dialogue(plainOpenClose());
    dialogue.begin(TWO_SECONDS, now);
    now = now.plusMillis(300);
    hear(dialogue, "OPENED 7 100\n");
    assertEquals(START.plusSeconds(2), dialogue.nextDue().orElseThrow());
  }

  /** The mirror's release is sent once, too, and after it nobody knows what was taken. */
  @Test
  void mirrorLockUpIsTwoReleases() {
    ObjectNode profile = ProfileTexts.shipped("timed-contact");
    ((ObjectNode) profile.get("commands"))
        .putObject("mirrorUp")
        .put("send", "TAP")
        .put("reply", "TAPPED")
        .put("retries", 5);
    profile.put("mirrorSettleMillis", 2000);
    Dialogue dialogue = dialogue(profile);
    dialogue.begin(TWO_SECONDS, now);
    hear(dialogue, "HALF OK\n");
    passUntilDue(dialogue);
    assertEquals("HALF\nTAP\n", sent(dialogue));
    hear(dialogue, "TAPPED\n");
    assertEquals(now.plusMillis(2000), dialogue.nextDue().orElseThrow());
    passUntilDue(dialogue);
    assertEquals("HOLD 2000 7\n", sent(dialogue));
    hear(dialogue, "HELD 7 2000\n");
    assertInstanceOf(Outcome.Acknowledged.class, dialogue.takeOutcome().orElseThrow());

    dialogue.begin(TWO_SECONDS, now);
    hear(dialogue, "HALF OK\n");
    passUntilDue(dialogue);
    passUntilDue(dialogue);
    assertEquals("HALF\nTAP\n", sent(dialogue));
    assertEquals(
        Optional.of(new Outcome.Lost("no answer to \"TAP\" within 1000 ms")),
        dialogue.takeOutcome());
  }

  /** The mirror went up, but what takes the picture was refused: surely no frame comes. */
  @ParameterizedTest
  @CsvSource({"timed-contact, HOLD 2000 7", "open-close, OPEN 7"})
  void aReleaseThatIsRefusedBehindTheMirrorIsRefused(String kind, String release) {
    ObjectNode profile = ProfileTexts.shipped(kind);
    ((ObjectNode) profile.get("line")).put("checksum", "none");
    ((ObjectNode) profile.get("commands")).putObject("mirrorUp").put("send", "TAP");
    profile.put("mirrorSettleMillis", 2000);
    Dialogue dialogue = dialogue(profile);
    dialogue.begin(TWO_SECONDS, now);
    hear(dialogue, "HALF OK\n");
    StringBuilder said = new StringBuilder(sent(dialogue));
    while (said.indexOf(release) < 0) {
      passUntilDue(dialogue);
      said.append(sent(dialogue));
    }
    hear(dialogue, "ERR card full\n");
    Outcome outcome = dialogue.takeOutcome().orElseThrow();
    assertInstanceOf(Outcome.Refused.class, outcome);
    assertInstanceOf(Input.ReleaseRefused.class, TriggerInputs.of(TWO_SECONDS, outcome));
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      nullValues = "-",
      value = {
        "exposedMillis=2001.25 | PT2.00125S",
        "openedMillis=100;closedMillis=2101 | PT2.001S",
        // A counter of 32 bits begins again after 49.7 days.
        "openedMillis=4294967000;closedMillis=1704 | PT2S",
        "openedMillis=100 | -",
        "closedMillis=100 | -",
        "openedMillis=100;closedMillis=100 | -",
        "exposedMillis=0 | -",
        "exposedMillis=-5 | -",
        "exposedMillis=99999999 | -",
        "exposedMillis=soon | -",
        "shot=7 | -",
      })
  void theAchievedTimeIsTakenFromTheAnswers(String groups, Duration exposed) {
    Map<String, String> map = new java.util.TreeMap<>();
    for (String group : groups.split(";")) {
      map.put(group.split("=")[0], group.split("=")[1]);
    }
    assertEquals(
        new Input.ReleaseConfirmed(7, Optional.ofNullable(exposed)),
        TriggerInputs.of(TWO_SECONDS, new Outcome.Acknowledged(map)));
  }

  /** A part of a notice that came before an order must not pass for the order's answer. */
  @Test
  void aNoticeThatIsCutByAnOrderStaysANotice() {
    ObjectNode profile =
        ProfileTexts.with("/notices", List.of(Map.of("kind", "t", "pattern", "T .*")));
    Dialogue dialogue = dialogue(profile);
    hear(dialogue, "T ");
    dialogue.begin(new Order.ReadMeter(), now);
    hear(dialogue, "12.03\n");
    assertFalse(dialogue.takeOutcome().isPresent());
    assertEquals(List.of(new Replies.Heard("t", "T 12.03")), dialogue.takeNotices());
    hear(dialogue, "9.5\n");
    assertEquals(
        Optional.of(new Outcome.Acknowledged(Map.of("ev", "9.5"))), dialogue.takeOutcome());
  }

  @Test
  void aFloodOfNoticesIsBounded() {
    Dialogue dialogue = dialogue(ProfileTexts.shipped("timed-contact"));
    hear(dialogue, "BUTTON\n".repeat(10_000));
    assertEquals(Incoming.MAX_NOTICES, dialogue.takeNotices().size());
  }

  private final List<Input> inputs = new ArrayList<>();

  private TriggerDesk desk(String profile) {
    return new TriggerDesk(
        new Profiles(Optional.empty()).load(profile), Duration.ofSeconds(1), inputs::add);
  }

  private void say(TriggerDesk desk, String text) {
    desk.receive(text.getBytes(ISO_8859_1), now);
    desk.tick(now);
  }

  private TriggerDesk greeted() {
    TriggerDesk desk = desk("timed-contact");
    desk.perform(new Order.Greet());
    desk.tick(now);
    desk.takeOutput();
    say(desk, "ID BOX\n");
    assertEquals(List.of(new Input.TriggerGreeted("BOX")), inputs);
    inputs.clear();
    return desk;
  }

  @Test
  void aHeartbeatIsAskedAfterSilenceAndIsNoNewsWhileItIsAnswered() {
    TriggerDesk desk = greeted();
    for (int beat = 0; beat < 3; beat++) {
      assertEquals(Optional.of(now.plusSeconds(10)), desk.nextDue());
      desk.tick(now.plusMillis(9_999));
      assertEquals(0, desk.takeOutput().length);
      now = now.plusSeconds(10);
      desk.tick(now);
      assertEquals("PING\n", new String(desk.takeOutput(), ISO_8859_1));
      say(desk, "PONG\n");
    }
    assertEquals(List.of(), inputs);
  }

  @Test
  void anUnansweredHeartbeatIsALostTrigger() {
    TriggerDesk desk = greeted();
    while (desk.isLinked()) {
      now = desk.nextDue().orElseThrow();
      desk.tick(now);
    }
    assertEquals(
        List.of(new Input.TriggerLost("no answer to \"PING\" within 1000 ms (asked 3 times)")),
        inputs);
    // 10 s of silence, three time-outs and two settlings; then the port is opened again.
    assertEquals(START.plusMillis(13_400), now);
    now = desk.nextDue().orElseThrow();
    assertTrue(desk.wantsPort(now));
    desk.opened(now);
    say(desk, "ID BOX\n");
    assertEquals(new Input.TriggerGreeted("BOX"), inputs.get(1));
    assertEquals(Optional.of(now.plusSeconds(10)), desk.nextDue());
  }

  @Test
  void aPortThatGoesDuringAHeartbeatIsALostTriggerAndNoMore() {
    TriggerDesk desk = greeted();
    now = now.plusSeconds(10);
    desk.tick(now);
    desk.lost("the port is gone", now);
    assertEquals(List.of(new Input.TriggerLost("the port is gone")), inputs);
  }

  @Test
  void anOrderGoesBeforeAHeartbeatThatIsDue() {
    TriggerDesk desk = greeted();
    now = now.plusSeconds(10);
    desk.perform(TWO_SECONDS);
    desk.tick(now);
    assertEquals("HALF\n", new String(desk.takeOutput(), ISO_8859_1));
  }

  @Test
  void aNoticeOfEachKindIsHandedOverOnceASecond() {
    TriggerDesk desk = greeted();
    say(desk, "BATTERY 3.7 V\nBUTTON\nBATTERY 3.6 V\n");
    now = now.plusMillis(999);
    say(desk, "BATTERY 3.5 V\n");
    now = now.plusMillis(1);
    say(desk, "BATTERY 3.4 V\n");
    assertEquals(
        List.of(
            new Input.TriggerNoticed("battery", "3.7 V"),
            new Input.TriggerNoticed("button", "BUTTON"),
            new Input.TriggerNoticed("battery", "3.4 V")),
        inputs);
  }

  /** What a small device does to each command and what it answers. */
  private static String answer(String command, Random faults, Set<String> done) {
    String reply =
        command.startsWith("OPEN")
            ? "OPENED 7 1000\n"
            : command.startsWith("CLOSE") ? "CLOSED 7 3000\n" : "";
    return switch (faults.nextInt(6)) {
      case 0 -> "";
      case 1 -> {
        done.add(command);
        yield "";
      }
      case 2 -> {
        done.add(command);
        yield reply.substring(0, faults.nextInt(reply.length()));
      }
      case 3 -> "ERR NO\n";
      case 4 -> {
        done.add(command);
        yield "noise\n" + reply + reply;
      }
      default -> {
        done.add(command);
        yield reply;
      }
    };
  }

  /** Whatever the line does, what was sent to open is followed by what closes, or was refused. */
  @Test
  void aShutterThatWasOpenedIsClosedOverAnyFaultyLine() {
    Set<Class<?>> seen = new HashSet<>();
    for (int seed = 1; seed <= 2000; seed++) {
      Random faults = new Random(seed);
      Dialogue dialogue = dialogue(plainOpenClose());
      Set<String> done = new HashSet<>();
      StringBuilder all = new StringBuilder();
      dialogue.begin(TWO_SECONDS, now);
      for (int step = 0; dialogue.isBusy(); step++) {
        assertTrue(step < 100, "seed " + seed + " does not end");
        String said = sent(dialogue);
        all.append(said);
        for (String command : said.lines().toList()) {
          hear(dialogue, answer(command, faults, done));
        }
        if (dialogue.isBusy() && said.isEmpty()) {
          passUntilDue(dialogue);
        }
      }
      Outcome outcome = dialogue.takeOutcome().orElseThrow();
      seen.add(outcome.getClass());
      assertEquals(1, all.toString().split("OPEN", -1).length - 1, "seed " + seed);
      if (outcome instanceof Outcome.Refused) {
        assertFalse(done.contains("OPEN 7"), "seed " + seed + ": refused and yet opened");
      } else {
        assertTrue(all.toString().contains("CLOSE 7\n"), "seed " + seed + ": not closed");
      }
      if (outcome instanceof Outcome.Acknowledged) {
        assertEquals(Set.of("OPEN 7", "CLOSE 7"), done, "seed " + seed);
      }
    }
    assertEquals(Set.of(Outcome.class.getPermittedSubclasses()), seen);
  }
}

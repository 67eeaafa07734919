package org.scenespan.trigger;

import static java.nio.charset.StandardCharsets.ISO_8859_1;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.scenespan.light.Aperture;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;

class DialogueTest {
  private static final Instant START = Instant.parse("2026-03-01T05:00:00Z");
  private static final Exposure EXPOSURE =
      new Exposure(Shutter.ofThird(-21), Aperture.ofThird(18), Iso.ofThird(0));
  private static final Order.Fire FIRE = new Order.Fire(7, EXPOSURE);

  private final Profile profile = new Profiles(Optional.empty()).load("reference-trigger");
  private final Dialogue dialogue = new Dialogue(profile);
  private Instant now = START;

  private void hear(String text) {
    dialogue.receive(text.getBytes(ISO_8859_1), now);
  }

  private String sent() {
    return new String(dialogue.takeOutput(), ISO_8859_1);
  }

  private Outcome outcome() {
    return dialogue.takeOutcome().orElseThrow();
  }

  /** Lets the time come that the dialogue waits for. */
  private void passUntilDue() {
    now = dialogue.nextDue().orElseThrow();
    dialogue.tick(now);
  }

  private void begin(Order order) {
    dialogue.begin(order, now);
  }

  @Test
  void aGreetingIsAskedAsOftenAsTheProfileSaysAndIsThenLost() {
    begin(new Order.Greet());
    for (int asked = 1; asked <= 3; asked++) {
      assertEquals("*IDN?\n", sent());
      assertEquals(now.plusMillis(1000), dialogue.nextDue().orElseThrow());
      dialogue.tick(now.plusMillis(999));
      assertEquals("", sent());
      passUntilDue();
      if (asked < 3) {
        assertEquals("", sent(), "nothing is asked while the line settles");
        assertEquals(now.plusMillis(200), dialogue.nextDue().orElseThrow());
        passUntilDue();
      }
    }
    assertEquals(
        new Outcome.Lost("no answer to \"*IDN?\" within 1000 ms (asked 3 times)"), outcome());
    assertFalse(dialogue.isBusy());
    assertEquals(Optional.empty(), dialogue.nextDue());
    assertEquals("", sent());
  }

  @Test
  void aNoisyLineIsGarbledAndQuotedWithoutItsControlCharacters() {
    begin(new Order.ReadMeter());
    for (int asked = 1; asked <= 3; asked++) {
      hear("\u0007\u00ff" + "x".repeat(100) + "\n");
      passUntilDue();
      if (asked < 3) {
        passUntilDue();
      }
    }
    String quote = "??" + "x".repeat(58) + "…";
    assertEquals(
        new Outcome.Garbled("\"METer:EV?\" (asked 3 times) was answered with \"" + quote + "\""),
        outcome());
  }

  @Test
  void aGoodAnswerAfterNoiseCounts() {
    begin(new Order.ReadMeter());
    hear("@#!\n\n\r\n12.03\r\n");
    assertEquals(new Outcome.Acknowledged(Map.of("ev", "12.03")), outcome());
  }

  @Test
  void anEndlessLineIsGarbageAndTakesNoMemory() {
    begin(new Order.ReadMeter());
    for (int i = 0; i < 10_000; i++) {
      hear("7".repeat(1000));
    }
    assertFalse(dialogue.takeOutcome().isPresent());
    hear("\n12.5\n");
    assertEquals(new Outcome.Acknowledged(Map.of("ev", "12.5")), outcome());
  }

  @Test
  void anOverlongLineIsNamed() {
    begin(new Order.ReadMeter());
    for (int asked = 1; asked <= 3; asked++) {
      hear("1".repeat(LineBuffer.MAX_LINE_BYTES + 1) + "\n");
      passUntilDue();
      if (asked < 3) {
        passUntilDue();
      }
    }
    assertEquals(
        new Outcome.Garbled(
            "\"METer:EV?\" (asked 3 times) was answered with a line longer than 1024 bytes"),
        outcome());
  }

  @Test
  void theLongestAllowedLineIsStillALine() {
    begin(new Order.ReadMeter());
    hear("0".repeat(LineBuffer.MAX_LINE_BYTES - 1) + "5\n");
    assertInstanceOf(Outcome.Acknowledged.class, outcome());
  }

  @Test
  void aCutAnswerIsAskedAgainAndItsRestIsNoAnswer() {
    begin(new Order.ReadMeter());
    assertEquals("METer:EV?\n", sent());
    hear("-");
    passUntilDue();
    // The rest comes while the line settles, and after: what is left of -12.03 is a number, too.
    hear("1");
    passUntilDue();
    assertEquals("METer:EV?\n", sent());
    hear("2.03\n");
    assertFalse(dialogue.takeOutcome().isPresent(), "the rest of a cut line was taken for a line");
    hear("12.03\n");
    assertEquals(new Outcome.Acknowledged(Map.of("ev", "12.03")), outcome());
  }

  @Test
  void whatCameBeforeTheOrderIsNoAnswerToIt() {
    hear("9.00\n8.0");
    begin(new Order.ReadMeter());
    hear("12.03\n");
    assertEquals(new Outcome.Acknowledged(Map.of("ev", "12.03")), outcome());
  }

  @Test
  void anAnswerThatIsLateForALostOrderIsNotTakenByTheNext() {
    begin(new Order.ReadMeter());
    for (int i = 0; i < 5; i++) {
      passUntilDue();
    }
    assertInstanceOf(Outcome.Lost.class, outcome());
    sent();
    begin(new Order.ReadMeter());
    assertEquals("", sent());
    hear("3.00\n");
    passUntilDue();
    assertEquals("METer:EV?\n", sent());
    hear("12.03\n");
    assertEquals(new Outcome.Acknowledged(Map.of("ev", "12.03")), outcome());
  }

  /** Plays a shot up to where the release has just been sent. */
  private void playUpToRelease() {
    SmallDevice device = new SmallDevice();
    begin(FIRE);
    while (true) {
      byte[] bytes = dialogue.takeOutput();
      String replies = device.hear(bytes);
      if (new String(bytes, ISO_8859_1).contains("RELease")) {
        return;
      }
      hear(replies);
    }
  }

  @Test
  void aReleaseIsNeverSentAgain() {
    playUpToRelease();
    StringBuilder later = new StringBuilder();
    while (dialogue.isBusy()) {
      passUntilDue();
      later.append(sent());
    }
    assertEquals("SYSTem:ERRor?\n", later.toString());
    assertEquals(
        new Outcome.Lost(
            "no answer to \"SYSTem:ERRor?\" within 2000 ms of the exposure's end (asked 2 times)"),
        outcome());
  }

  @Test
  void theTimeOutOfAReleaseBeginsWhenTheExposureEnds() {
    Exposure thirty = EXPOSURE.withShutter(Shutter.ofThird(15));
    dialogue.begin(new Order.Fire(1, thirty), now);
    SmallDevice device = new SmallDevice();
    String said = "";
    while (!said.contains("DONE?")) {
      byte[] bytes = dialogue.takeOutput();
      said = new String(bytes, ISO_8859_1);
      String replies = device.hear(bytes);
      if (!said.contains("DONE?")) {
        hear(replies);
      }
    }
    // 60 ms of lag, exactly 32 s engraved as 30, 2 s of time-out.
    assertEquals(START.plusMillis(60 + 32_000 + 2_000), dialogue.nextDue().orElseThrow());
  }

  @Test
  void anErrorAfterTheReleaseIsARefusal() {
    playUpToRelease();
    hear("-213,\"Init ignored\"\n");
    assertEquals(
        new Outcome.Refused("the trigger refused \"TRIGger:RELease 7\": -213 Init ignored"),
        outcome());
  }

  /** The camera could not store an earlier frame; this one may well be taken. */
  @Test
  void anErrorOfTheDevicesOwnAfterTheReleaseIsNoRefusal() {
    playUpToRelease();
    hear("-250,\"Mass storage error\"\n");
    assertEquals(
        new Outcome.Garbled("after \"TRIGger:RELease 7\" it said -250 Mass storage error"),
        outcome());
  }

  @ParameterizedTest
  @ValueSource(strings = {"6\n", "70\n", "0,\"No error\"\n", "seven\n", "1\n6\n"})
  void anotherShotsNumberDoesNotConfirmThisOne(String stale) {
    playUpToRelease();
    hear("0,\"No error\"\n");
    hear(stale);
    assertFalse(dialogue.takeOutcome().isPresent());
    while (dialogue.isBusy()) {
      passUntilDue();
    }
    assertInstanceOf(Outcome.Garbled.class, outcome());
  }

  @Test
  void aDoubledAnswerIsPassedOver() {
    playUpToRelease();
    hear("8\n8\n0,\"No error\"\n0,\"No error\"\n7\n7\n");
    assertEquals("7", ((Outcome.Acknowledged) outcome()).groups().get("shot"));
    dialogue.begin(new Order.ReadMeter(), now);
    assertFalse(dialogue.takeOutcome().isPresent());
  }

  @Test
  void aShotThatFailsBeforeItsReleaseIsSurelyNotTaken() {
    begin(FIRE);
    while (dialogue.isBusy()) {
      passUntilDue();
    }
    assertEquals(
        new Outcome.Refused(
            "no answer to \"SYSTem:ERRor?\" within 1000 ms (asked 3 times); nothing was released"),
        outcome());
    assertFalse(sent().contains("RELease"));
  }

  @Test
  void aSettingThatReadsBackAnotherValueIsNotReleased() {
    begin(FIRE);
    hear("0,\"No error\"\n");
    for (int asked = 1; asked <= 3; asked++) {
      hear("0.5\n");
      passUntilDue();
      if (asked < 3) {
        passUntilDue();
        hear("0,\"No error\"\n");
      }
    }
    assertEquals(
        new Outcome.Refused(
            "\"EXPosure:TIME?\" (asked 3 times) was answered with \"0.5\"; nothing was released"),
        outcome());
  }

  @Test
  void aPulledCableLeavesAReleasedShotUnknownAndAnUnreleasedOneRefused() {
    begin(FIRE);
    dialogue.abandon("the port is gone");
    assertEquals(new Outcome.Refused("the port is gone; nothing was released"), outcome());
    playUpToRelease();
    dialogue.abandon("the port is gone");
    assertEquals(new Outcome.Lost("the port is gone"), outcome());
    assertEquals("", sent());
    dialogue.abandon("again");
    assertFalse(dialogue.takeOutcome().isPresent());
  }

  @Test
  void aProfileWithoutAMeterRefusesToMeter() {
    Profile blind = ProfileTexts.profileWithout("meter");
    Dialogue other = new Dialogue(blind);
    other.begin(new Order.ReadMeter(), now);
    assertEquals(
        Optional.of(new Outcome.Refused("the profile reference-trigger has no such command")),
        other.takeOutcome());
  }

  @Test
  void aRefusalOfItsOwnAccordEndsTheOrder() {
    Dialogue other = new Dialogue(ProfileTexts.profileWith("/refusal", "ERR:? ?(?<reason>.*)"));
    other.begin(new Order.ReadMeter(), now);
    other.receive("ERR: too dark\n".getBytes(ISO_8859_1), now);
    assertEquals(
        Optional.of(new Outcome.Refused("the trigger refused \"METer:EV?\": too dark")),
        other.takeOutcome());
  }

  @Test
  void twoOrdersAtATimeAreABrokenPromise() {
    begin(new Order.ReadMeter());
    assertThrows(IllegalStateException.class, () -> dialogue.begin(FIRE, now));
    hear("1\n");
    assertThrows(IllegalStateException.class, () -> dialogue.begin(FIRE, now));
  }

  /** What a faulty line does to a reply. */
  private enum Fault {
    NONE,
    LOST,
    DOUBLED,
    CUT,
    GARBAGE,
    NOISE_BEFORE,
    LATE,
    /** The device hears nothing. */
    UNHEARD,
    /** The device hears only the last of the lines that were sent together. */
    HALF_HEARD
  }

  /**
   * Plays an order over a faulty line.
   *
   * @param faults draws the faults
   * @param cuts draws where the bytes are cut; whole if empty
   * @return everything that was sent, and the outcome
   */
  private static List<String> play(
      Profile profile, Order order, Random faults, Optional<Random> cuts) {
    Dialogue dialogue = new Dialogue(profile);
    SmallDevice device = new SmallDevice();
    List<String> record = new ArrayList<>();
    Set<Fault> on = new HashSet<>(Set.of(Fault.NONE));
    for (Fault fault : Fault.values()) {
      if (faults.nextBoolean()) {
        on.add(fault);
      }
    }
    List<Fault> possible = on.stream().sorted().toList();
    Instant now = START;
    String late = "";
    dialogue.begin(order, now);
    for (int step = 0; dialogue.isBusy(); step++) {
      assertTrue(step < 1000, "does not end: " + record);
      byte[] bytes = dialogue.takeOutput();
      String replies = late;
      late = "";
      if (bytes.length > 0) {
        record.add(new String(bytes, ISO_8859_1));
        Fault fault = possible.get(faults.nextInt(possible.size()));
        String reply = device.hear(heard(bytes, fault));
        switch (fault) {
          case NONE, UNHEARD, HALF_HEARD -> replies += reply;
          case LOST -> {}
          case DOUBLED -> replies += reply + reply;
          case CUT -> replies += reply.substring(0, faults.nextInt(reply.length() + 1));
          case GARBAGE ->
              replies +=
                  faults
                      .ints(20, 0, 256)
                      .collect(
                          StringBuilder::new,
                          (text, c) -> text.append((char) c),
                          StringBuilder::append);
          case NOISE_BEFORE -> replies += "\u00ff\n" + reply;
          case LATE -> late = reply;
        }
      }
      deliver(dialogue, replies.getBytes(ISO_8859_1), now, cuts);
      if (dialogue.isBusy() && dialogue.nextDue().orElseThrow().isAfter(now)) {
        byte[] more = dialogue.takeOutput();
        if (more.length > 0) {
          // Several replies in one go can bring up several questions: none may be lost.
          record.add(new String(more, ISO_8859_1));
          late += device.hear(more);
        } else {
          now = now.plus(Duration.ofMillis(1 + faults.nextInt(1500)));
          dialogue.tick(now);
        }
      }
    }
    byte[] rest = dialogue.takeOutput();
    record.add(new String(rest, ISO_8859_1));
    device.hear(rest);
    Outcome outcome = dialogue.takeOutcome().orElseThrow();
    record.add(outcome.toString());
    if (order instanceof Order.Fire fire) {
      for (String exposure : device.exposures()) {
        assertEquals("0.015625 5.6 200", exposure, "released with other settings: " + record);
      }
      assertTrue(device.released().size() <= 1, "released twice: " + record);
      if (outcome instanceof Outcome.Refused) {
        assertEquals(List.of(), device.released(), "refused and yet released: " + record);
      }
      if (outcome instanceof Outcome.Acknowledged) {
        assertEquals(List.of(fire.shot()), device.released(), record.toString());
      }
    }
    return record;
  }

  /** What the device hears of what was sent. */
  private static byte[] heard(byte[] bytes, Fault fault) {
    if (fault == Fault.UNHEARD) {
      return new byte[0];
    }
    String text = new String(bytes, ISO_8859_1);
    int last = text.lastIndexOf('\n', text.length() - 2) + 1;
    return fault == Fault.HALF_HEARD ? text.substring(last).getBytes(ISO_8859_1) : bytes;
  }

  private static void deliver(Dialogue dialogue, byte[] bytes, Instant now, Optional<Random> cuts) {
    int from = 0;
    while (from < bytes.length) {
      int most = bytes.length - from;
      int count = cuts.isPresent() ? 1 + cuts.get().nextInt(most) : most;
      dialogue.receive(Arrays.copyOfRange(bytes, from, from + count), now);
      from += count;
    }
  }

  @Test
  void overAFaultyLineTheOutcomeIsTrueAndIndifferentToCuts() {
    // None of the device's own settings after power-on, so that a lost setting would show.
    Exposure other = new Exposure(Shutter.ofThird(-18), Aperture.ofThird(15), Iso.ofThird(3));
    Set<Class<?>> seen = new HashSet<>();
    for (int seed = 1; seed <= 2000; seed++) {
      Order order = seed % 4 == 0 ? new Order.Greet() : new Order.Fire(7, other);
      List<String> whole = play(profile, order, new Random(seed), Optional.empty());
      List<String> cut =
          play(profile, order, new Random(seed), Optional.of(new Random(seed * 31L)));
      assertEquals(whole, cut, "seed " + seed);
      String last = whole.get(whole.size() - 1);
      for (Class<?> kind : Outcome.class.getPermittedSubclasses()) {
        if (last.startsWith(kind.getSimpleName())) {
          seen.add(kind);
        }
      }
    }
    assertEquals(Set.of(Outcome.class.getPermittedSubclasses()), seen, "not every end was played");
  }
}

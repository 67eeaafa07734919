package org.scenespan.dashboard;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.net.InetAddress;
import java.net.UnknownHostException;
import java.time.Duration;
import java.time.Instant;
import java.util.Base64;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.scenespan.dashboard.Pairing.Answer;

class PairingTest {
  private static final InetAddress TABLET = address(7);

  private Instant now = Instant.parse("2026-05-04T03:00:00Z");
  private final Random chance = new Random(5);
  private final Pairing pairing = new Pairing(() -> now, this::bytes);

  private byte[] bytes() {
    byte[] bytes = new byte[32];
    chance.nextBytes(bytes);
    return bytes;
  }

  /** Of the block for documentation, RFC 5737. */
  private static InetAddress address(int n) {
    return of((byte) 192, (byte) 0, (byte) (2 + (n >> 8)), (byte) n);
  }

  private static InetAddress of(byte... bytes) {
    try {
      return InetAddress.getByAddress(bytes);
    } catch (UnknownHostException e) {
      throw new AssertionError(e);
    }
  }

  private String wrong() {
    return pairing.operatorCode().equals("00000000") ? "00000001" : "x";
  }

  private void pass(Duration time) {
    now = now.plus(time);
  }

  @Test
  void eachCodeGivesATokenOfItsRole() {
    assertNotEquals(pairing.operatorCode(), pairing.viewerCode());
    assertTrue(pairing.operatorCode().matches("[0-9]{8}"), pairing.operatorCode());
    assertTrue(pairing.viewerCode().matches("[0-9]{8}"), pairing.viewerCode());
    Answer.Paired one = (Answer.Paired) pairing.enter(TABLET, pairing.operatorCode());
    Answer.Paired two = (Answer.Paired) pairing.enter(TABLET, pairing.viewerCode());
    assertEquals(Role.OPERATOR, one.role());
    assertEquals(Optional.of(Role.OPERATOR), pairing.roleOf(one.token()));
    assertEquals(Optional.of(Role.VIEWER), pairing.roleOf(two.token()));
    assertEquals(32, Base64.getUrlDecoder().decode(one.token()).length, "256 bits");
    assertEquals(Optional.empty(), pairing.roleOf(one.token() + "A"));
    assertEquals(Optional.empty(), pairing.roleOf(""));
  }

  @ParameterizedTest
  @ValueSource(strings = {"", "0", "1234567", "123456789", "1234 5678", "12345678\u0000", "x"})
  void anythingElseIsWrongAndCounted(String code) {
    assertInstanceOf(Answer.Wrong.class, pairing.enter(TABLET, code));
    assertEquals(1, pairing.wrongCodes());
  }

  @Test
  void eachWrongCodeDoublesTheWaitOfItsAddress() {
    for (int seconds : new int[] {1, 2, 4, 8, 16, 32, 64, 64, 64}) {
      assertInstanceOf(Answer.Wrong.class, pairing.enter(TABLET, wrong()));
      pass(Duration.ofSeconds(seconds).minusMillis(1));
      // A right code is not looked at either: else the wait would not slow a guesser.
      Answer early = pairing.enter(TABLET, pairing.operatorCode());
      assertEquals(Duration.ofMillis(1), assertInstanceOf(Answer.TooSoon.class, early).left());
      pass(Duration.ofMillis(1));
    }
    assertEquals(9, pairing.wrongCodes(), "waits are not counted");
    assertInstanceOf(Answer.Paired.class, pairing.enter(TABLET, pairing.operatorCode()));
    assertInstanceOf(Answer.Wrong.class, pairing.enter(TABLET, wrong()));
    pass(Duration.ofSeconds(1));
    assertInstanceOf(Answer.Wrong.class, pairing.enter(TABLET, wrong()), "it began anew");
  }

  @Test
  void manyAddressesTogetherGetNoMoreThanTwentyAMinute() {
    int looked = 0;
    for (int millis = 0; millis < 3_600_000; millis += 100) {
      InetAddress from = address(millis / 100 % 512);
      looked += pairing.enter(from, wrong()) instanceof Answer.Wrong ? 1 : 0;
      pass(Duration.ofMillis(100));
    }
    assertTrue(looked <= 20 * 60 + Pairing.MOST_WRONG_AT_ONCE, "looked at " + looked);
    assertTrue(looked >= 20 * 60 - 1, "looked at " + looked);
    pass(Pairing.LONGEST_WAIT);
    assertInstanceOf(Answer.Paired.class, pairing.enter(TABLET, pairing.viewerCode()));
  }

  @Test
  void aNetworkOfIpv6AddressesIsOneAddress() {
    byte[] bytes = {0x20, 1, 0xd, (byte) 0xb8, 0, 0, 0, 1, 0, 0, 0, 0, 0, 0, 0, 1};
    assertInstanceOf(Answer.Wrong.class, pairing.enter(of(bytes), wrong()));
    bytes[15] = 2;
    assertInstanceOf(Answer.TooSoon.class, pairing.enter(of(bytes), wrong()));
    bytes[7] = 2;
    assertInstanceOf(Answer.Wrong.class, pairing.enter(of(bytes), wrong()), "another network");
  }

  @ParameterizedTest
  @CsvSource({"true, OPERATOR", "false, VIEWER"})
  void theOldestOfARoleMakesRoomAndTheOtherRoleIsLeftAlone(boolean viewersCome, Role kept) {
    String one = viewersCome ? pairing.operatorCode() : pairing.viewerCode();
    String many = viewersCome ? pairing.viewerCode() : pairing.operatorCode();
    Answer.Paired stays = (Answer.Paired) pairing.enter(TABLET, one);
    Answer.Paired oldest = (Answer.Paired) pairing.enter(TABLET, many);
    for (int i = 0; i < Pairing.MOST_PAIRED; i++) {
      pairing.enter(TABLET, many);
    }
    assertEquals(Optional.of(kept), pairing.roleOf(stays.token()));
    assertEquals(Optional.empty(), pairing.roleOf(oldest.token()));
  }

  @Test
  void codesDifferEvenWhereChanceRepeats() {
    Pairing same = new Pairing(() -> now, () -> new byte[16]);
    assertEquals("00000000", same.operatorCode());
    assertEquals("00000001", same.viewerCode());
  }

  @Test
  void tooLittleChanceIsRefused() {
    assertThrows(IllegalArgumentException.class, () -> new Pairing(() -> now, () -> new byte[15]));
  }
}

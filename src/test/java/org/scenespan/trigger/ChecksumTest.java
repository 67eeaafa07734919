package org.scenespan.trigger;

import static java.nio.charset.StandardCharsets.US_ASCII;
import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ChecksumTest {
  /**
   * The check values of the catalogue of parametrised CRC algorithms, CRC-16/IBM-3740 and
   * CRC-16/MODBUS; the sum of the nine digits exclusive-ored is 0x31 [computed].
   */
  @ParameterizedTest
  @CsvSource({"NONE, 0", "XOR, 0x31", "CRC16_CCITT_FALSE, 0x29B1", "CRC16_MODBUS, 0x4B37"})
  void hasTheCheckValueOfTheCatalogue(Checksum checksum, String value) {
    assertEquals(Integer.decode(value), checksum.of("123456789".getBytes(US_ASCII)));
  }

  @Test
  void isSentInItsOwnOrder() {
    byte[] message = "123456789".getBytes(US_ASCII);
    assertArrayEquals(new byte[] {0x29, (byte) 0xB1}, Checksum.CRC16_CCITT_FALSE.bytesOf(message));
    assertArrayEquals(new byte[] {0x37, 0x4B}, Checksum.CRC16_MODBUS.bytesOf(message));
  }

  /**
   * The first is the sentence of NMEA 0183 in common use as an example [memory], whose sum leaves
   * the dollar sign out.
   */
  @ParameterizedTest
  @CsvSource({
    "XOR, 'GPGLL,5300.97914,N,00259.98174,E,125926,A', 28",
    "CRC16_CCITT_FALSE, 123456789, 29B1",
    "CRC16_MODBUS, 123456789, 4B37"
  })
  void standsBehindATextInDigits(Checksum checksum, String text, String digits) {
    Framing framing = new Framing(line(checksum));
    assertEquals(text + "*" + digits + "\n", new String(framing.encode(text), US_ASCII));
    assertEquals(Optional.of(text), framing.decode(text + "*" + digits));
    assertEquals(Optional.of(text), framing.decode(text + "*" + digits.toLowerCase()));
    assertEquals(Optional.empty(), framing.decode(text + "*" + digits.substring(1)));
    assertEquals(Optional.empty(), framing.decode(text));
    assertEquals(Optional.empty(), framing.decode("x" + text + "*" + digits));
    assertEquals(Optional.empty(), framing.decode(""));
  }

  private static Profile.LineSettings line(Checksum checksum) {
    Profile.LineSettings plain = Profile.LineSettings.SILENT;
    return new Profile.LineSettings(
        plain.baud(),
        plain.dataBits(),
        plain.parity(),
        plain.stopBits(),
        plain.flowControl(),
        plain.sendTerminator(),
        plain.replyTerminator(),
        plain.form(),
        checksum,
        plain.replyBytes(),
        plain.byteOrder());
  }
}

package org.scenespan.trigger;

import java.io.ByteArrayOutputStream;
import java.math.BigInteger;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.Locale;
import java.util.Optional;

/**
 * Makes messages of what a profile says and reads them back: characters, or bytes written as {@code
 * A5 01}, each with its checksum and its terminator.
 */
final class Framing {
  /** Parts a text from its checksum in hexadecimal digits, as in NMEA 0183. */
  private static final String MARK = "*";

  private static final HexFormat HEX = HexFormat.ofDelimiter(" ").withUpperCase();

  private final Profile.LineSettings line;

  Framing(Profile.LineSettings line) {
    this.line = line;
  }

  /** The bytes of a message. */
  byte[] encode(String message) {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    if (line.form() == Profile.Form.HEX) {
      byte[] body = bytesOf(message);
      bytes.writeBytes(body);
      bytes.writeBytes(line.checksum().bytesOf(body));
    } else {
      byte[] body = message.getBytes(StandardCharsets.US_ASCII);
      bytes.writeBytes(body);
      bytes.writeBytes(digits(body).getBytes(StandardCharsets.US_ASCII));
    }
    bytes.writeBytes(line.sendTerminator().characters().getBytes(StandardCharsets.US_ASCII));
    return bytes.toByteArray();
  }

  /**
   * What a frame without its terminator says; empty if its checksum is wrong.
   *
   * @param frame one character a byte
   */
  Optional<String> decode(String frame) {
    Checksum checksum = line.checksum();
    if (line.form() == Profile.Form.HEX) {
      byte[] bytes = frame.getBytes(StandardCharsets.ISO_8859_1);
      int length = bytes.length - checksum.length();
      if (length < 0) {
        return Optional.empty();
      }
      byte[] body = Arrays.copyOf(bytes, length);
      byte[] sum = Arrays.copyOfRange(bytes, length, bytes.length);
      return Arrays.equals(sum, checksum.bytesOf(body))
          ? Optional.of(HEX.formatHex(body))
          : Optional.empty();
    }
    if (checksum == Checksum.NONE) {
      return Optional.of(frame);
    }
    int mark = frame.lastIndexOf(MARK);
    if (mark < 0) {
      return Optional.empty();
    }
    String body = frame.substring(0, mark);
    String expected = digits(body.getBytes(StandardCharsets.ISO_8859_1));
    return expected.equalsIgnoreCase(frame.substring(mark)) ? Optional.of(body) : Optional.empty();
  }

  /** A number in a reply: decimal in a text, a few bytes in a message of bytes. */
  double number(String text) {
    if (line.form() == Profile.Form.TEXT) {
      return Double.parseDouble(text);
    }
    return new BigInteger(1, ordered(bytesOf(text))).doubleValue();
  }

  /** How many different numbers a part of a reply can show; none if it is not so bounded. */
  Optional<Double> modulus(String text) {
    return line.form() == Profile.Form.TEXT
        ? Optional.empty()
        : Optional.of(Math.pow(256, bytesOf(text).length));
  }

  /** A whole number of 0 or more in so many bytes, the higher ones cut off. */
  String bytesOf(long number, int length) {
    byte[] bytes = new byte[length];
    for (int i = 0; i < length; i++) {
      bytes[length - 1 - i] = (byte) (number >> (8 * i));
    }
    return HEX.formatHex(ordered(bytes));
  }

  private byte[] ordered(byte[] bytes) {
    if (line.byteOrder() == Profile.ByteOrder.BIG) {
      return bytes;
    }
    byte[] turned = new byte[bytes.length];
    for (int i = 0; i < bytes.length; i++) {
      turned[i] = bytes[bytes.length - 1 - i];
    }
    return turned;
  }

  /**
   * The bytes written in a text.
   *
   * @throws NumberFormatException if it is no row of pairs of hexadecimal digits
   */
  static byte[] bytesOf(String text) {
    try {
      return HexFormat.of().parseHex(text.replace(" ", ""));
    } catch (IllegalArgumentException e) {
      throw new NumberFormatException("\"" + text + "\" is no row of bytes in hexadecimal");
    }
  }

  private String digits(byte[] body) {
    return switch (line.checksum().length()) {
      case 0 -> "";
      case 1 -> MARK + String.format(Locale.ROOT, "%02X", line.checksum().of(body));
      default -> MARK + String.format(Locale.ROOT, "%04X", line.checksum().of(body));
    };
  }
}

package org.scenespan.trigger;

import java.util.Map;

/** Reads how a profile's line is set, and how its messages are made. */
final class LineReader {
  private static final Map<String, Profile.Terminator> TERMINATORS =
      Map.of(
          "none",
          Profile.Terminator.NONE,
          "LF",
          Profile.Terminator.LF,
          "CR",
          Profile.Terminator.CR,
          "CRLF",
          Profile.Terminator.CRLF);

  private LineReader() {}

  static Profile.LineSettings line(ProfileFields root) {
    ProfileFields fields = root.child("line", ProfileReader.FIELDS.get("line"));
    Profile.LineSettings line =
        new Profile.LineSettings(
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
            fields.choice("sendTerminator", TERMINATORS),
            fields.choice("replyTerminator", TERMINATORS),
            fields.choice(
                "form",
                Map.of("text", Profile.Form.TEXT, "hex", Profile.Form.HEX),
                Profile.Form.TEXT),
            fields.choice(
                "checksum",
                Map.of(
                    "none",
                    Checksum.NONE,
                    "xor",
                    Checksum.XOR,
                    "crc16-ccitt-false",
                    Checksum.CRC16_CCITT_FALSE,
                    "crc16-modbus",
                    Checksum.CRC16_MODBUS),
                Checksum.NONE),
            fields.integer("replyBytes", 1, 256, 0),
            fields.choice(
                "byteOrder",
                Map.of("big", Profile.ByteOrder.BIG, "little", Profile.ByteOrder.LITTLE),
                Profile.ByteOrder.BIG));
    requireSense(fields, line);
    return line;
  }

  private static void requireSense(ProfileFields fields, Profile.LineSettings line) {
    boolean counted = line.replyTerminator() == Profile.Terminator.NONE;
    if (counted != line.replyBytes() > 0) {
      throw fields.wrong(
          "replyBytes",
          counted
              ? "is missing: with line.replyTerminator \"none\" only it tells a reply's end"
              : "needs line.replyTerminator \"none\"");
    }
    if (line.form() == Profile.Form.HEX && line.dataBits() != 8) {
      throw fields.wrong("dataBits", "(7) must be 8 for messages of bytes");
    }
    if (line.form() == Profile.Form.HEX && line.flowControl() == Profile.FlowControl.XONXOFF) {
      throw fields.wrong("flowControl", "(\"xonxoff\") would take two of the bytes away");
    }
  }
}

package org.scenespan.trigger;

import java.io.ByteArrayOutputStream;
import java.util.ArrayList;
import java.util.List;

/**
 * The telnet line (RFC 854) with the option to set a serial port (RFC 2217), seen from the host:
 * takes data out of what comes, escapes what goes, and answers the other side's wishes.
 */
final class Telnet {
  static final int IAC = 255;
  static final int DONT = 254;
  static final int DO = 253;
  static final int WONT = 252;
  static final int WILL = 251;
  static final int SB = 250;
  static final int SE = 240;

  /** Options: binary (RFC 856), suppress go-ahead (RFC 858), com port (RFC 2217). */
  static final int BINARY = 0;

  static final int SUPPRESS_GO_AHEAD = 3;
  static final int COM_PORT = 44;

  /** What the server adds to a command's number in its answer (RFC 2217, section 3). */
  static final int ANSWER = 100;

  /** More than any answer of RFC 2217. */
  private static final int MAX_SUBNEGOTIATION_BYTES = 256;

  private enum Phase {
    DATA,
    COMMAND,
    OPTION,
    SUB,
    SUB_COMMAND
  }

  /** An answer of the far end about the serial port, such as 101 for the speed, and its value. */
  record Answer(int command, byte[] value) {}

  private final ByteArrayOutputStream data = new ByteArrayOutputStream();
  private final ByteArrayOutputStream replies = new ByteArrayOutputStream();
  private final ByteArrayOutputStream sub = new ByteArrayOutputStream();
  private final List<Answer> answers = new ArrayList<>();
  private Phase phase = Phase.DATA;
  private int verb;
  private boolean comPort;
  private boolean refused;

  /** What we offer and wish for at the beginning. */
  static byte[] opening() {
    return bytes(
        IAC, WILL, COM_PORT, IAC, WILL, BINARY, IAC, DO, BINARY, IAC, DO, SUPPRESS_GO_AHEAD);
  }

  /** A command about the serial port. */
  static byte[] command(int number, byte[] value) {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    out.writeBytes(bytes(IAC, SB, COM_PORT, number));
    out.writeBytes(escaped(value));
    out.writeBytes(bytes(IAC, SE));
    return out.toByteArray();
  }

  /** Data with each byte of 255 doubled. */
  static byte[] escaped(byte[] plain) {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    for (byte value : plain) {
      out.write(value);
      if ((value & 0xff) == IAC) {
        out.write(value);
      }
    }
    return out.toByteArray();
  }

  void receive(byte[] bytes, int count) {
    for (int i = 0; i < count; i++) {
      take(bytes[i] & 0xff);
    }
  }

  byte[] takeData() {
    return taken(data);
  }

  /** What is to be sent back. */
  byte[] takeReplies() {
    return taken(replies);
  }

  List<Answer> takeAnswers() {
    List<Answer> taken = List.copyOf(answers);
    answers.clear();
    return taken;
  }

  /** Whether the far end lets the serial port be set. */
  boolean isComPort() {
    return comPort;
  }

  /** Whether the far end said that it does not. */
  boolean isRefused() {
    return refused;
  }

  private void take(int value) {
    switch (phase) {
      case DATA -> {
        if (value == IAC) {
          phase = Phase.COMMAND;
        } else {
          data.write(value);
        }
      }
      case COMMAND -> command(value);
      case OPTION -> {
        phase = Phase.DATA;
        option(value);
      }
      case SUB -> {
        if (value == IAC) {
          phase = Phase.SUB_COMMAND;
        } else if (sub.size() < MAX_SUBNEGOTIATION_BYTES) {
          sub.write(value);
        }
      }
      case SUB_COMMAND -> {
        if (value == IAC) {
          sub.write(value);
          phase = Phase.SUB;
        } else {
          phase = Phase.DATA;
          end(taken(sub));
        }
      }
    }
  }

  private void command(int value) {
    phase = Phase.DATA;
    if (value == IAC) {
      data.write(IAC);
    } else if (value == SB) {
      sub.reset();
      phase = Phase.SUB;
    } else if (value >= WILL && value <= DONT) {
      verb = value;
      phase = Phase.OPTION;
    }
  }

  private void option(int option) {
    boolean asked = option == COM_PORT || option == BINARY || option == SUPPRESS_GO_AHEAD;
    if (option == COM_PORT && verb == DO) {
      comPort = true;
    } else if (option == COM_PORT && verb == DONT) {
      refused = true;
    } else if (verb == DO && option == SUPPRESS_GO_AHEAD) {
      replies.writeBytes(bytes(IAC, WILL, option));
    } else if (verb == DO && !asked) {
      replies.writeBytes(bytes(IAC, WONT, option));
    } else if (verb == WILL && !asked) {
      replies.writeBytes(bytes(IAC, DONT, option));
    }
    // The rest agrees to what we asked for at the beginning: answering it could go on for ever.
  }

  private void end(byte[] body) {
    if (body.length >= 2 && (body[0] & 0xff) == COM_PORT) {
      byte[] value = new byte[body.length - 2];
      System.arraycopy(body, 2, value, 0, value.length);
      answers.add(new Answer(body[1] & 0xff, value));
    }
  }

  private static byte[] taken(ByteArrayOutputStream stream) {
    byte[] bytes = stream.toByteArray();
    stream.reset();
    return bytes;
  }

  static byte[] bytes(int... values) {
    byte[] bytes = new byte[values.length];
    for (int i = 0; i < values.length; i++) {
      bytes[i] = (byte) values[i];
    }
    return bytes;
  }
}

package org.scenespan.trigger;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.Optional;

/**
 * The least of a device that the shipped profile can talk to: one command a line, exposes at once.
 */
final class SmallDevice {
  static final String IDENTITY = "SCENESPAN,REFERENCE TRIGGER,0,1.0";

  private final StringBuilder line = new StringBuilder();
  private final Deque<String> errors = new ArrayDeque<>();
  private final List<Integer> released = new ArrayList<>();
  private final List<String> exposures = new ArrayList<>();
  private String seconds = "0.0078125";
  private String iso = "100";
  private String aperture = "8";

  /** The shots released, in order. */
  List<Integer> released() {
    return released;
  }

  /** The settings of each shot released: seconds, f-number and ISO. */
  List<String> exposures() {
    return exposures;
  }

  /** Takes what was sent and gives the replies, each with its line end. */
  String hear(byte[] bytes) {
    StringBuilder replies = new StringBuilder();
    for (byte value : bytes) {
      if (value == '\n') {
        answer(line.toString()).ifPresent(reply -> replies.append(reply).append('\n'));
        line.setLength(0);
      } else {
        line.append((char) value);
      }
    }
    return replies.toString();
  }

  private Optional<String> answer(String command) {
    String[] parts = command.split(" ", 2);
    switch (parts[0]) {
      case "*IDN?":
        return Optional.of(IDENTITY);
      case "SYSTem:ERRor?":
        return Optional.of(errors.isEmpty() ? "0,\"No error\"" : errors.remove());
      case "EXPosure:TIME?":
        return Optional.of(seconds);
      case "EXPosure:ISO?":
        return Optional.of(iso);
      case "EXPosure:APERture?":
        return Optional.of(aperture);
      case "TRIGger:DONE?":
        return Optional.of(released.isEmpty() ? "0" : released.get(released.size() - 1).toString());
      case "METer:EV?":
        return Optional.of("12.03");
      default:
        obey(parts[0], parts.length > 1 ? parts[1] : "");
        return Optional.empty();
    }
  }

  private void obey(String header, String parameter) {
    switch (header) {
      case "*CLS" -> errors.clear();
      case "*RST" -> iso = "100";
      case "EXPosure:TIME" -> seconds = parameter;
      case "EXPosure:ISO" -> setIso(parameter);
      case "EXPosure:APERture" -> aperture = parameter;
      case "TRIGger:RELease" -> {
        released.add(Integer.valueOf(parameter));
        exposures.add(seconds + " " + aperture + " " + iso);
      }
      default -> errors.add("-113,\"Undefined header\"");
    }
  }

  private void setIso(String parameter) {
    if (Double.parseDouble(parameter) > 25600) {
      errors.add("-222,\"Data out of range\"");
    } else {
      iso = parameter;
    }
  }
}

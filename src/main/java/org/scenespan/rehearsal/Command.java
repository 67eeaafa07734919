package org.scenespan.rehearsal;

import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** The commands of the reference trigger (docs/line-protocol.md); capitals are the short form. */
enum Command {
  IDENTITY("*IDN?", false, false),
  RESET("*RST", false, false),
  CLEAR("*CLS", false, false),
  OPERATION_COMPLETE("*OPC?", false, true),
  NEXT_ERROR("SYSTem:ERRor?", false, false),
  SET_TIME("EXPosure:TIME", true, false),
  TIME("EXPosure:TIME?", false, false),
  SET_ISO("EXPosure:ISO", true, false),
  ISO("EXPosure:ISO?", false, false),
  SET_APERTURE("EXPosure:APERture", true, false),
  APERTURE("EXPosure:APERture?", false, false),
  RELEASE("TRIGger:RELease", true, false),
  DONE("TRIGger:DONE?", false, true),
  METER("METer:EV?", false, false);

  private final List<String> mnemonics;
  private final boolean takesNumber;
  private final boolean waits;

  Command(String header, boolean takesNumber, boolean waits) {
    this.mnemonics = List.of(header.split(":"));
    this.takesNumber = takesNumber;
    this.waits = waits;
  }

  /** Whether one number has to follow the header. */
  boolean takesNumber() {
    return takesNumber;
  }

  /** Whether it is obeyed only when no exposure is pending. */
  boolean waits() {
    return waits;
  }

  /**
   * The command of a header.
   *
   * @param path its mnemonics from the root, the last with the question mark of a query
   */
  static Optional<Command> of(List<String> path) {
    for (Command command : values()) {
      if (command.matches(path)) {
        return Optional.of(command);
      }
    }
    return Optional.empty();
  }

  private boolean matches(List<String> path) {
    boolean same = path.size() == mnemonics.size();
    for (int i = 0; same && i < mnemonics.size(); i++) {
      String longForm = mnemonics.get(i);
      String shortForm = longForm.replaceAll("[a-z]", "");
      String given = path.get(i).toUpperCase(Locale.ROOT);
      same = given.equals(shortForm) || given.equals(longForm.toUpperCase(Locale.ROOT));
    }
    return same;
  }
}

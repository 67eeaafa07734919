package org.scenespan.cli;

import java.util.ArrayList;
import java.util.List;
import org.scenespan.session.Event;

/** The check of a rig in words. */
final class RigTold {
  private RigTold() {}

  static List<String> lines(Event.RigChecked checked) {
    List<String> lines = new ArrayList<>();
    for (Event.RigFinding finding : checked.findings()) {
      lines.add(
          switch (finding.weight()) {
            case Event.RigFinding.FAULT -> "ALARM: rig check: " + finding.words();
            case Event.RigFinding.WARNING -> "   Look: " + finding.words();
            default -> "   Rig check: " + finding.words();
          });
    }
    boolean faulty =
        checked.findings().stream().anyMatch(it -> it.weight().equals(Event.RigFinding.FAULT));
    lines.add(
        faulty
            ? "As it is, the frames would be spoilt: stop it and put the rig right."
            : "The rig is ready.");
    return lines;
  }
}

package org.scenespan.control;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import org.scenespan.journal.JournalReading;
import org.scenespan.journal.Sessions;
import org.scenespan.session.State;

/** Hands a session over to other programs, by its kind. */
public final class SessionExport {
  private SessionExport() {}

  /**
   * What was written.
   *
   * @param tables names of the files that tell of all frames
   * @param sidecars how many frames have one of their own
   */
  public record Written(List<String> tables, int sidecars) {
    public Written {
      tables = List.copyOf(tables);
    }
  }

  /**
   * @param to is created if it is not there
   * @throws IllegalArgumentException if the session has nothing to hand over, or a file is in the
   *     way
   * @throws IOException if something cannot be written
   */
  public static Written write(Sessions sessions, String name, Path to) throws IOException {
    State state = JournalReading.stateOf(sessions.find(name));
    return state.isLapse()
        ? LapseExport.write(state, name, to)
        : MarksExport.write(state, name, to);
  }
}

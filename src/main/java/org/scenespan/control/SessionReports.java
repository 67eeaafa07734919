package org.scenespan.control;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import org.scenespan.journal.JournalReading;
import org.scenespan.journal.Sessions;
import org.scenespan.proof.report.SessionReport;
import org.scenespan.proof.report.Told;
import org.scenespan.session.Event;
import org.scenespan.session.State;
import org.scenespan.wire.JournalRecord;

/** Reports of kept sessions. */
public final class SessionReports {
  private static final String FILE = "report.html";

  private SessionReports() {}

  /**
   * Writes a session's report.
   *
   * @param out its file; else one in the session's own directory, whose last one it replaces
   * @param words what a record is in sentences
   * @return the file
   * @throws IllegalArgumentException if the file is there already, or in the hot folder
   * @throws IOException if the journal cannot be read or the report not be written
   */
  public static Path write(
      Sessions sessions,
      String name,
      Optional<Path> out,
      ZoneId zone,
      Function<JournalRecord, List<String>> words)
      throws IOException {
    Path directory = sessions.find(name);
    JournalReading reading = JournalReading.of(directory);
    State state = reading.state();
    if (state.setup().isEmpty()) {
      throw new IllegalArgumentException("session \"" + name + "\" has no records yet");
    }
    Path file = out.orElse(directory.resolve(FILE));
    if (out.isPresent() && Files.exists(file)) {
      throw new IllegalArgumentException(
          "--out \"" + file + "\" is there already; name another file");
    }
    Path folder = Workbench.folder(directory, state.opened().gear());
    if (Proofs.real(file).startsWith(Proofs.real(folder))) {
      throw new IllegalArgumentException(
          "--out \"" + file + "\" is in the hot folder, which is only ever read; name another");
    }
    List<Told> told = new ArrayList<>();
    List<Event.FrameMatched> matched = new ArrayList<>();
    for (JournalRecord record : reading.records()) {
      if (record.event() instanceof Event.FrameMatched frame) {
        matched.add(frame);
      }
      words.apply(record).forEach(line -> told.add(new Told(record.at(), line)));
    }
    new SessionReport(state, told, matched, Sessions.previews(directory), zone).write(file);
    return file;
  }
}

package org.scenespan.control;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.scenespan.folder.FramePixels;
import org.scenespan.folder.UnreadableFrame;
import org.scenespan.frame.CameraProfile;
import org.scenespan.frame.PictureRows;
import org.scenespan.journal.JournalReading;
import org.scenespan.journal.Sessions;
import org.scenespan.proof.BracketProof;
import org.scenespan.proof.Calibration;
import org.scenespan.proof.LapseProof;
import org.scenespan.proof.Progress;
import org.scenespan.proof.ProofFrame;
import org.scenespan.proof.ProofResult;
import org.scenespan.session.BracketSetup;
import org.scenespan.session.Event;
import org.scenespan.session.State;

/** Proofs of kept sessions, and calibrations: the room proof with a way to read pixels. */
public final class Proofs {
  private static final String FOLDER = "proof";

  private Proofs() {}

  /**
   * Merges a session's accepted frames.
   *
   * @param out for the proof's files; else a folder of the session's own
   * @param profile of the camera that made the JPEGs; else the one that the session was started
   *     with
   * @throws IllegalArgumentException if the session has no frames, or the folder is the hot one
   * @throws IOException if no frame can be read, or the proof not be written
   */
  public static ProofResult make(
      Sessions sessions,
      String name,
      Optional<Path> out,
      Optional<CameraProfile> profile,
      Progress progress)
      throws IOException {
    Path directory = sessions.find(name);
    State state = JournalReading.stateOf(directory);
    if (state.frames().isEmpty()) {
      throw new IllegalArgumentException("session \"" + name + "\" has no frames to merge");
    }
    BracketSetup setup = state.bracket();
    Path folder = Workbench.folder(directory, setup.gear());
    Path target = out.orElse(directory.resolve(FOLDER));
    if (real(target).startsWith(real(folder))) {
      throw new IllegalArgumentException(
          "--out \"" + target + "\" is in the hot folder, which is only ever read; name another");
    }
    List<ProofFrame> frames = new ArrayList<>();
    for (Event.FrameAccepted accepted : state.frames()) {
      frames.add(
          new ProofFrame(
              folder.resolve(accepted.frame().file()),
              accepted.frame().companion().map(folder::resolve).filter(Files::isRegularFile),
              accepted.exposure()));
    }
    Optional<CameraProfile> camera = profile.or(() -> Workbench.camera(directory));
    return new BracketProof(Proofs::read, setup.noise(), setup.goal().snr(), camera, progress)
        .make(frames, target);
  }

  /** Whether a session is a lapse. */
  public static boolean isLapse(Sessions sessions, String name) throws IOException {
    return JournalReading.stateOf(sessions.find(name)).isLapse();
  }

  /**
   * Assembles a finished lapse: an evened film and a plot of the brightness.
   *
   * @param out for the proof's files; else a folder of the session's own
   * @param rate frames a second
   * @throws IllegalArgumentException if the lapse is not finished, or the folder is the hot one
   * @throws IOException if no frame can be read, or the proof not be written
   */
  public static LapseProof.Result film(
      Sessions sessions, String name, Optional<Path> out, int rate, Progress progress)
      throws IOException {
    Path directory = sessions.find(name);
    State state = JournalReading.stateOf(directory);
    if (!(state.report().orElse(null) instanceof Event.LapseReport report)) {
      throw new IllegalArgumentException(
          "session \""
              + name
              + "\" is not finished; go on with: scenespan sessions resume "
              + name);
    }
    Path folder = Workbench.folder(directory, state.opened().gear());
    Path target = out.orElse(directory.resolve(FOLDER));
    if (real(target).startsWith(real(folder))) {
      throw new IllegalArgumentException(
          "--out \"" + target + "\" is in the hot folder, which is only ever read; name another");
    }
    List<LapseProof.Frame> frames = new ArrayList<>();
    for (Event.LapseLine line : report.frames()) {
      frames.add(
          new LapseProof.Frame(
              line.seconds(),
              line.exposure().ev(),
              line.file().map(folder::resolve),
              line.errorStops(),
              line.gainStops()));
    }
    return new LapseProof(Proofs::read, progress).make(frames, rate, target);
  }

  /**
   * A camera's profile from a bracket of a still scene.
   *
   * @throws IllegalArgumentException in one line, if the files are no such bracket
   * @throws IOException if one cannot be read
   */
  public static CameraProfile calibrate(List<Path> files, Progress progress) throws IOException {
    return new Calibration(Proofs::read, progress).recover(files);
  }

  private static void read(Path file, PictureRows rows) throws IOException {
    try {
      FramePixels.read(file, rows);
    } catch (UnreadableFrame unreadable) {
      throw new IOException(unreadable.getMessage(), unreadable);
    }
  }

  /** A path without links, as far as it exists. */
  static Path real(Path path) throws IOException {
    Path absolute = path.toAbsolutePath().normalize();
    if (Files.exists(absolute)) {
      return absolute.toRealPath();
    }
    Path parent = absolute.getParent();
    return parent == null ? absolute : real(parent).resolve(absolute.getFileName());
  }
}

package org.scenespan.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.scenespan.control.CameraProfiles;
import org.scenespan.control.Proofs;
import org.scenespan.control.SessionLag;
import org.scenespan.frame.CameraProfile;
import org.scenespan.wire.CameraProfileJson;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Learns a camera: tone response, headroom, noise, shutter times, lag. */
@Command(
    name = "calibrate",
    mixinStandardHelpOptions = true,
    description = {
      "Learn a camera from frames of a still scene, and say how good each number is.",
      "",
      "JPEGs of a bracket tell the tone response, with the raw file (DNG) beside one or more of"
          + " them the headroom. Raw files in pairs with equal settings tell the noise, those of a"
          + " bracket alone less surely; raw files with several shutters, two or more of each, tell"
          + " the shutter's real times. Sessions tell the lag. What is not measured anew is kept of"
          + " an earlier profile.",
      "",
      "Use a tripod, manual settings and light that does not change, and frame plain surfaces from"
          + " dark to bright."
    },
    footerHeading = "%nExamples:%n",
    footer = {
      "  scenespan calibrate bracket/*.JPG bracket/*.DNG",
      "  scenespan calibrate flats/*.DNG --session 20260504-051231-ridge"
    })
final class CalibrateCommand implements Callable<Integer> {
  @Spec private CommandSpec spec;
  @Mixin private Places places;

  @Parameters(paramLabel = "FILE", arity = "0..*", description = "JPEG and DNG files.")
  private List<Path> files = List.of();

  @Option(
      names = "--session",
      paramLabel = "NAME",
      description = "A session that fired by a trigger, for the lag; may be given several times.")
  private List<String> sessions = List.of();

  @Option(
      names = "--out",
      paramLabel = "FILE",
      description = "Where the profile goes. Default: your directory of camera profiles.")
  private Path out;

  @Option(names = "--json", description = "Write the profile on standard output, too.")
  private boolean json;

  @Override
  public Integer call() throws IOException {
    if (files.size() < 2 && sessions.isEmpty()) {
      throw new IllegalArgumentException(
          "give two or more frames, or a session with --session, to learn from");
    }
    CameraProfile found = found();
    Path file = out != null ? out : places.cameraProfiles().fileOf(found.camera());
    Optional<CameraProfile> older = CameraProfiles.kept(file);
    if (older.isPresent() && !older.get().camera().equals(found.camera())) {
      throw new IllegalArgumentException(
          "\"" + file + "\" is the profile of " + older.get().camera() + "; name another file");
    }
    CameraProfile profile = older.map(found::over).orElse(found);
    CameraProfiles.save(profile, file);
    PrintWriter told = spec.commandLine().getOut();
    if (json) {
      told.print(CameraProfileJson.write(profile));
    } else {
      new CalibrationTelling(told).tell(found);
      told.println("Written to " + file + older.map(old -> ", over what it had").orElse(""));
    }
    told.flush();
    return ExitCode.DONE;
  }

  private CameraProfile found() throws IOException {
    Optional<SessionLag.Found> lag =
        sessions.isEmpty()
            ? Optional.empty()
            : Optional.of(SessionLag.of(places.sessions(), sessions));
    String by = lag.flatMap(SessionLag.Found::camera).orElse("unknown camera");
    CameraProfile timed =
        new CameraProfile(
            by, 0, 0, List.of(), List.of(), Optional.empty(), lag.map(SessionLag.Found::lag));
    if (files.isEmpty()) {
      return timed;
    }
    CameraProfile seen;
    try (ProgressLine progress = ProgressLine.on(spec.commandLine().getErr())) {
      seen = Proofs.calibrate(files, progress);
    }
    if (lag.isPresent() && !seen.camera().equals(by)) {
      throw new IllegalArgumentException(
          "the files are by " + seen.camera() + ", the sessions by " + by);
    }
    return seen.over(timed);
  }
}

package org.scenespan.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.scenespan.folder.FrameFiles;
import org.scenespan.folder.FrameReader;
import org.scenespan.frame.CameraProfile;
import org.scenespan.frame.NoiseModel;
import org.scenespan.plan.BracketGoal;
import org.scenespan.plan.JpegMargin;
import org.scenespan.plan.ShotSets;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Measures frames that are already on disk. */
@Command(
    name = "inspect",
    mixinStandardHelpOptions = true,
    description =
        "Measure frames that are already on disk, in linear light, and tell of each set of a bracket"
            + " what it lost and what it would have taken. Stops are relative to saturation: 0 is"
            + " clipping, negative is darker.",
    footerHeading = "%nExamples:%n",
    footer = {
      "  scenespan inspect --json frames/SCN_0001.JPG",
      "  scenespan inspect --recursive --csv cards > frames.csv",
      "  scenespan inspect --sets frames"
    })
final class InspectCommand implements Callable<Integer> {
  @Spec private CommandSpec spec;
  @Mixin private Places places;
  @Mixin private GoalOptions held;

  /** With more files than this, each has a histogram of one line. */
  private static final int TALL_FILES = 4;

  @Option(names = "--json", description = "Write one JSON object a file; with --sets, one a set.")
  private boolean json;

  @Option(
      names = "--csv",
      description = "Write a table for a spreadsheet, a row a file; with --sets, a row a set.")
  private boolean csv;

  @Option(
      names = {"-r", "--recursive"},
      description = "Look through the folders in a folder too.")
  private boolean recursive;

  @Option(names = "--sets", description = "Tell only of sets, not of each frame.")
  private boolean sets;

  @Option(
      names = "--set-pause",
      paramLabel = "TIME",
      defaultValue = "15s",
      converter = Values.DurationValue.class,
      description =
          "The longest pause between the frames of a set, besides the exposures (${DEFAULT-VALUE}).")
  private Duration pause;

  @Option(
      names = "--camera",
      paramLabel = "PROFILE",
      description =
          "The camera's own response and noise, from scenespan calibrate: a profile's name, or a"
              + " .json file. Default: a margin is kept for what JPEGs hide.")
  private String camera;

  @Parameters(
      paramLabel = "FILE",
      arity = "1..*",
      description =
          "JPEG, TIFF, PNG, DNG or Radiance files, other raw files that carry a JPEG, or folders"
              + " with such. A raw file and the JPEG of its press are also compared.")
  private List<Path> given;

  @Override
  public Integer call() throws IOException, InterruptedException {
    if (json && csv) {
      throw new IllegalArgumentException("--json and --csv contradict each other");
    }
    PrintWriter out = spec.commandLine().getOut();
    PrintWriter err = spec.commandLine().getErr();
    Optional<CameraProfile> profile =
        Optional.ofNullable(camera).map(places.cameraProfiles()::load);
    List<Path> unreadable = new ArrayList<>();
    List<Path> files = files(unreadable);
    FrameListing listing = listing(out, err, files.size());
    Inspection inspection =
        new Inspection(
            listing,
            new ShotSets(pause),
            new BracketGoal(
                held.snr(),
                held.clipTolerance(),
                held.shadowTolerance(),
                BracketGoal.USUAL.overlap(),
                BracketGoal.USUAL.maxFrames()),
            profile.map(JpegMargin::of).orElse(JpegMargin.UNMEASURED),
            profile.flatMap(CameraProfile::sensor).orElse(NoiseModel.TYPICAL),
            files);
    ProgressBar progress = new ProgressBar(err, files.size(), Terminal.isInteractive());
    listing.start();
    unreadable.forEach(folder -> inspection.failed(folder, "the folder cannot be read"));
    FrameReadings.read(
        new FrameReader(profile),
        files,
        (file, outcome) -> {
          progress.clear();
          if (outcome.error() != null) {
            inspection.failed(file, outcome.error());
          } else {
            inspection.read(file, outcome.reading());
          }
          out.flush();
        },
        progress::show);
    progress.clear();
    inspection.end();
    out.flush();
    return inspection.hasFailed() ? ExitCode.WRONG_USE : ExitCode.DONE;
  }

  private List<Path> files(List<Path> unreadable) throws IOException {
    List<Path> files = new ArrayList<>();
    for (Path path : given) {
      if (Files.isDirectory(path)) {
        List<Path> within = FrameFiles.in(path, recursive, unreadable::add);
        if (within.isEmpty() && unreadable.isEmpty()) {
          throw new IllegalArgumentException(
              "\""
                  + path
                  + "\" has no frames"
                  + (recursive ? "" : "; --recursive looks through the folders in it"));
        }
        files.addAll(within);
      } else {
        files.add(path);
      }
    }
    return files;
  }

  private FrameListing listing(PrintWriter out, PrintWriter err, int files) {
    if (json) {
      return new JsonListing(out, sets);
    }
    if (csv) {
      return new CsvListing(out, err, sets);
    }
    int width = spec.usageMessage().autoWidth(true).width();
    FrameTable table = new FrameTable(width, Terminal.showsBlocks(), files <= TALL_FILES);
    boolean summed = sets || given.stream().anyMatch(Files::isDirectory);
    return new TableListing(out, err, table, sets, summed);
  }
}

package org.scenespan.cli;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.Callable;
import java.util.concurrent.atomic.AtomicBoolean;
import org.scenespan.folder.FrameReader;
import org.scenespan.frame.FrameReading;
import org.scenespan.wire.FrameJson;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Measures frames that are already on disk. */
@Command(
    name = "inspect",
    mixinStandardHelpOptions = true,
    description =
        "Measure frames that are already on disk, in linear light. Stops are relative to"
            + " saturation: 0 is clipping, negative is darker.",
    footerHeading = "%nExample:%n",
    footer = "  scenespan inspect --json frames/SCN_0001.JPG")
final class InspectCommand implements Callable<Integer> {
  @Spec private CommandSpec spec;

  /** With more files than this, each has a histogram of one line. */
  private static final int TALL_FILES = 4;

  @Option(names = "--json", description = "Write one JSON object a file.")
  private boolean json;

  @Parameters(
      paramLabel = "FILE",
      arity = "1..*",
      description =
          "JPEG, TIFF, PNG, DNG or Radiance files, or other raw files that carry a JPEG. A raw file"
              + " and the JPEG of its press are also compared.")
  private List<Path> files;

  @Override
  public Integer call() throws InterruptedException {
    PrintWriter out = spec.commandLine().getOut();
    PrintWriter err = spec.commandLine().getErr();
    int width = spec.usageMessage().autoWidth(true).width();
    FrameTable table = new FrameTable(width, Terminal.showsBlocks(), files.size() <= TALL_FILES);
    Map<Path, FrameReading> readings = new LinkedHashMap<>();
    Set<Path> given = new HashSet<>(files);
    AtomicBoolean failed = new AtomicBoolean();
    ProgressBar progress = new ProgressBar(err, files.size(), Terminal.isInteractive());
    if (!json) {
      out.println(table.heading());
    }
    FrameReadings.read(
        files,
        (file, outcome) -> {
          progress.clear();
          if (outcome.error() != null) {
            failed.set(true);
            tellError(out, err, file, outcome.error());
          } else {
            FrameReading reading = outcome.reading().withCompanion(companion(file, given));
            readings.put(file, reading);
            tell(out, table, file, reading);
          }
          out.flush();
        },
        progress::show);
    progress.clear();
    if (!json) {
      table.pairs(readings).forEach(out::println);
      out.flush();
    }
    return failed.get() ? ExitCode.WRONG_USE : ExitCode.DONE;
  }

  private void tell(PrintWriter out, FrameTable table, Path file, FrameReading reading) {
    if (json) {
      ObjectNode node = FrameJson.inspected(reading);
      node.put("file", file.toString());
      out.println(node);
    } else {
      table.lines(file, reading).forEach(out::println);
    }
  }

  private void tellError(PrintWriter out, PrintWriter err, Path file, String error) {
    if (json) {
      ObjectNode node = JsonNodeFactory.instance.objectNode();
      node.put("file", file.toString());
      node.put("error", error);
      out.println(node);
    } else {
      err.println("scenespan: " + file + ": " + error);
      err.flush();
    }
  }

  /** The other given file of the same shutter press: same place, same stem, a JPEG and a raw. */
  private static Optional<String> companion(Path file, Set<Path> given) {
    return given.stream()
        .filter(other -> Objects.equals(other.getParent(), file.getParent()))
        .map(other -> other.getFileName().toString())
        .filter(other -> FrameReader.areOnePress(file.getFileName().toString(), other))
        .sorted()
        .findFirst();
  }
}

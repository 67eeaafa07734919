package org.scenespan.cli;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.Callable;
import org.scenespan.folder.FrameReader;
import org.scenespan.folder.UnreadableFrame;
import org.scenespan.frame.FrameMeasure;
import org.scenespan.frame.FrameMetadata;
import org.scenespan.frame.FrameReading;
import org.scenespan.light.Share;
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

  @Option(names = "--json", description = "Write one JSON object a file.")
  private boolean json;

  @Parameters(paramLabel = "FILE", arity = "1..*", description = "JPEG or DNG files.")
  private List<Path> files;

  @Override
  public Integer call() {
    PrintWriter out = spec.commandLine().getOut();
    PrintWriter err = spec.commandLine().getErr();
    FrameReader reader = new FrameReader();
    int code = ExitCode.DONE;
    if (!json) {
      out.println("  EV    clipped    crushed  median  exposure                       file");
    }
    for (Path file : files) {
      try {
        FrameReading reading = reader.read(file);
        out.println(json ? object(file, reading) : row(file, reading));
      } catch (UnreadableFrame unreadable) {
        code = ExitCode.WRONG_USE;
        if (json) {
          ObjectNode node = JsonNodeFactory.instance.objectNode();
          node.put("file", file.toString());
          node.put("error", unreadable.getMessage());
          out.println(node);
        } else {
          err.println("scenespan: " + file + ": " + unreadable.getMessage());
          err.flush();
        }
      }
      out.flush();
    }
    return code;
  }

  private static ObjectNode object(Path file, FrameReading reading) {
    ObjectNode node = FrameJson.write(reading);
    node.put("file", file.toString());
    return node;
  }

  private static String row(Path file, FrameReading reading) {
    FrameMetadata metadata = reading.metadata();
    FrameMeasure measure = reading.measure();
    String ev =
        metadata
            .exposure()
            .map(exposure -> String.format(Locale.ROOT, "%5.1f", exposure.ev().value()))
            .orElse("    -");
    return String.format(
        Locale.ROOT,
        "%s  %8s  %9s  %+6.1f  %-29s  %s",
        ev,
        Telling.percent(measure.clippedShare()),
        Telling.percent(Share.of(measure.crushed().combined(), measure.pixels())),
        measure.luminance().percentile(new Share(0.5)).value(),
        metadata.exposure().map(Object::toString).orElse("exposure unknown"),
        file);
  }
}

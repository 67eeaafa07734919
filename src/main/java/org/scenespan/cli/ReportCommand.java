package org.scenespan.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Path;
import java.time.ZoneId;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.scenespan.control.SessionReports;
import org.scenespan.wire.JournalRecord;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** A session on paper. */
@Command(
    name = "report",
    mixinStandardHelpOptions = true,
    description =
        "Write a session as one HTML page that needs nothing beside it and prints on A4: a contact"
            + " sheet, exposures, histograms, drawings, alarms, what was decided and why. The"
            + " frames are only read.",
    footerHeading = "%nExample:%n",
    footer = "  scenespan sessions report 20260504-051231-ridge --out ridge.html")
final class ReportCommand implements Callable<Integer> {
  @Spec private CommandSpec spec;
  @Mixin private Places places;

  @Parameters(paramLabel = "SESSION", description = "The session's name.")
  private String session;

  @Option(
      names = "--out",
      paramLabel = "FILE",
      description = "Where the page goes. Default: report.html in the session's own directory.")
  private Path out;

  @Override
  public Integer call() throws IOException {
    StringWriter line = new StringWriter();
    Telling telling = new Telling(new PrintWriter(line), false, false);
    Path file =
        SessionReports.write(
            places.sessions(),
            session,
            Optional.ofNullable(out),
            ZoneId.systemDefault(),
            record -> sentences(telling, line, record));
    spec.commandLine().getOut().println("Written to " + file);
    spec.commandLine().getOut().flush();
    return ExitCode.DONE;
  }

  private static List<String> sentences(Telling telling, StringWriter line, JournalRecord record) {
    line.getBuffer().setLength(0);
    telling.publish(List.of(record));
    return line.toString().lines().toList();
  }
}

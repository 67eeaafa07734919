package org.scenespan.cli;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.scenespan.control.OpenedSession;
import org.scenespan.control.SessionExport;
import org.scenespan.journal.JournalReading;
import org.scenespan.journal.Sessions;
import org.scenespan.session.Setup;
import org.scenespan.session.State;
import org.scenespan.wire.EventJson;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Sessions that are kept on disk. */
@Command(
    name = "sessions",
    mixinStandardHelpOptions = true,
    description = "List, show, resume, export and report the sessions that are kept on disk.",
    subcommands = ReportCommand.class,
    footerHeading = "%nExample:%n",
    footer = "  scenespan sessions list")
final class SessionsCommand implements Runnable {
  @Spec private CommandSpec spec;

  @Override
  public void run() {
    spec.commandLine().usage(spec.commandLine().getOut());
  }

  @Command(
      name = "list",
      mixinStandardHelpOptions = true,
      description = "List all sessions, the oldest first.",
      footerHeading = "%nExample:%n",
      footer = "  scenespan sessions list --json")
  int list(
      @Mixin Places places,
      @Option(names = "--json", description = "Write one JSON object a session.") boolean json)
      throws IOException {
    PrintWriter out = spec.commandLine().getOut();
    Sessions sessions = places.sessions();
    for (String name : sessions.names()) {
      out.println(json ? object(sessions, name) : row(sessions, name));
    }
    out.flush();
    return ExitCode.DONE;
  }

  private static String row(Sessions sessions, String name) {
    ObjectNode node = object(sessions, name);
    return node.has("error")
        ? String.format(Locale.ROOT, "%-45s  damaged: %s", name, node.get("error").asText())
        : String.format(
            Locale.ROOT,
            "%-45s  %-15s  %2d frames  %s",
            name,
            node.get("state").asText(),
            node.get("frames").asInt(),
            node.path("source").asText());
  }

  private static ObjectNode object(Sessions sessions, String name) {
    ObjectNode node = JsonNodeFactory.instance.objectNode();
    node.put("session", name);
    try {
      State state = JournalReading.stateOf(sessions.find(name));
      node.put("kind", state.setup().map(Setup::kind).orElse("bracket"));
      node.put("state", state.report().map(it -> it.stopped().label()).orElse("unfinished"));
      node.put(
          "frames",
          state.frames().size() + state.tether().frames().size() + state.lapse().frames().size());
      state.setup().ifPresent(setup -> node.put("source", setup.gear().source()));
    } catch (IOException damaged) {
      node.put("error", damaged.getMessage());
    }
    return node;
  }

  @Command(
      name = "show",
      mixinStandardHelpOptions = true,
      description = "Show what happened in a session and how it ended.",
      footerHeading = "%nExample:%n",
      footer = "  scenespan sessions show 20260504-051231-ridge")
  int show(
      @Mixin Places places,
      @Mixin Output output,
      @Parameters(paramLabel = "SESSION", description = "The session's name.") String name)
      throws IOException {
    PrintWriter out = spec.commandLine().getOut();
    JournalReading reading = JournalReading.of(places.sessions().find(name));
    if (output.json()) {
      reading.records().forEach(record -> out.println(EventJson.write(record)));
    } else {
      new Telling(out, false, false).publish(reading.records());
      State state = reading.state();
      state.report().ifPresent(report -> Reports.table(out, report));
      if (!state.isClosed()) {
        out.println("Unfinished; go on with: scenespan sessions resume " + name);
      }
    }
    out.flush();
    return ExitCode.DONE;
  }

  @Command(
      name = "export",
      mixinStandardHelpOptions = true,
      description =
          "Hand a session over to other programs. Of a finished lapse, its evening gains as CSV, as"
              + " JSON and as an XMP sidecar a frame; of a tether, its marks as CSV and as XMP"
              + " sidecars. Nothing that is there already is touched.",
      footerHeading = "%nExample:%n",
      footer = "  scenespan sessions export 20260601-040000-lapse --to evening")
  int export(
      @Mixin Places places,
      @Option(
              names = "--to",
              paramLabel = "DIR",
              required = true,
              description = "The folder to write into; it is created if it is not there.")
          Path to,
      @Parameters(paramLabel = "SESSION", description = "The session's name.") String name)
      throws IOException {
    SessionExport.Written written = SessionExport.write(places.sessions(), name, to);
    PrintWriter out = spec.commandLine().getOut();
    out.println(
        "Written to "
            + to
            + ": "
            + String.join(", ", written.tables())
            + " and "
            + written.sidecars()
            + " sidecars.");
    out.flush();
    return ExitCode.DONE;
  }

  @Command(
      name = "resume",
      mixinStandardHelpOptions = true,
      description =
          "Go on with a session that was interrupted. A shot whose frame never came is taken"
              + " again.",
      footerHeading = "%nExample:%n",
      footer = {
        "  scenespan sessions resume 20260504-051231-ridge",
        "  scenespan sessions resume --latest"
      })
  int resume(
      @Mixin Places places,
      @Mixin Output output,
      @Mixin PageOption page,
      @Mixin RealTimeOption realTime,
      @Option(
              names = "--latest",
              description =
                  "Go on with the latest session, if it is not done; if it is, there is nothing to"
                      + " do. For a system that starts this by itself.")
          boolean latest,
      @Parameters(paramLabel = "SESSION", arity = "0..1", description = "The session's name.")
          String name)
      throws IOException, InterruptedException {
    if (latest == (name != null)) {
      throw new IllegalArgumentException("give a session's name, or --latest, not both or neither");
    }
    Optional<String> unfinished = latest ? latest(places.sessions()) : Optional.of(name);
    if (unfinished.isEmpty()) {
      spec.commandLine().getOut().println("Nothing to resume: no session, or the latest is done.");
      spec.commandLine().getOut().flush();
      return ExitCode.DONE;
    }
    try (OpenedSession session =
        OpenedSession.again(places.sessions(), unfinished.get(), places.profiles()::load)) {
      if (session.isHeld()) {
        PrintWriter told =
            output.json() ? spec.commandLine().getErr() : spec.commandLine().getOut();
        told.println(
            page.wanted()
                ? "It was held: continue it on the page."
                : "It was held: resume it with --dashboard, and continue it on the page.");
        told.flush();
      }
      return new SessionRunner(spec, output.json()).run(session, page, realTime.wanted(), false);
    }
  }

  /** The latest session, where it is not closed; an older one was left as it is on purpose. */
  private static Optional<String> latest(Sessions sessions) throws IOException {
    List<String> names = sessions.names();
    if (names.isEmpty()) {
      return Optional.empty();
    }
    String latest = names.get(names.size() - 1);
    State state = JournalReading.stateOf(sessions.find(latest));
    return state.isClosed() ? Optional.empty() : Optional.of(latest);
  }
}

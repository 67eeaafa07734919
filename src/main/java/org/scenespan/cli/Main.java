package org.scenespan.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.UncheckedIOException;
import java.nio.file.AccessDeniedException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.FileSystemException;
import java.nio.file.NoSuchFileException;
import java.util.List;
import java.util.Set;
import java.util.logging.Level;
import java.util.logging.Logger;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.IVersionProvider;

/** The program's entry. */
@Command(
    name = "scenespan",
    description = "Covers a scene's whole range of light with the fewest frames, by itself.",
    mixinStandardHelpOptions = true,
    versionProvider = Main.Version.class,
    subcommands = {
      DemoCommand.class,
      BracketCommand.class,
      LapseCommand.class,
      TetherCommand.class,
      PlanCommand.class,
      InspectCommand.class,
      CalibrateCommand.class,
      ProofCommand.class,
      SessionsCommand.class,
      DevicesCommand.class,
      ConfigCommand.class
    },
    footerHeading = "%nTry it with nothing connected:%n",
    footer = {
      "  scenespan demo",
      "",
      "Exit codes: 0 done (bracket: covered); 2 wrong use or bad input; 3 ended without covering;"
          + " 4 the trigger failed; 5 frames did not arrive; 130 interrupted."
    })
public final class Main extends AnyCommand implements Runnable {
  /** Held: java.util.logging forgets the level of a logger that nobody holds. */
  private static final Logger ROOT_LOG = Logger.getLogger("");

  /** The web server's words about each request that makes no sense: a caller's, and unbounded. */
  private static final Logger SERVER_LOG = Logger.getLogger("org.eclipse.jetty");

  public static void main(String[] args) {
    System.setProperty("java.awt.headless", System.getProperty("java.awt.headless", "true"));
    ROOT_LOG.setLevel(Level.WARNING);
    SERVER_LOG.setLevel(Level.SEVERE);
    Platform platform = Platform.here();
    System.exit(run(commandLineFor(platform, args), platform, args));
  }

  /** Runs the program with what its user has set for good. */
  static int run(CommandLine line, Platform platform, String... args) {
    try {
      SettingsInForce.apply(platform, line, args);
    } catch (IllegalArgumentException wrong) {
      line.getErr().println("scenespan: " + oneLine(wrong.getMessage()));
      return ExitCode.WRONG_USE;
    }
    return line.execute(args);
  }

  /**
   * As much of the command line as the words need: one command where one is named; all of them for
   * help, and where a user's settings have to be checked against them.
   */
  static CommandLine commandLineFor(Platform platform, String... args) {
    Set<String> words = Set.copyOf(List.of(args));
    boolean all =
        args.length == 0
            || !NamedCommands.names(Main.class).containsKey(args[0])
            || args[0].equals("config")
            || words.stream().anyMatch(SettingsInForce.ASKING::contains)
            || Settings.exist(platform);
    return all ? commandLine() : handled(NamedCommands.line(Main.class, args));
  }

  /** The whole command line without a user's settings, for the program and for tests. */
  static CommandLine commandLine() {
    return handled(new CommandLine(new Main()));
  }

  private static CommandLine handled(CommandLine line) {
    line.setParameterExceptionHandler(Main::wrongUse);
    line.setExecutionExceptionHandler(Main::failed);
    line.setUsageHelpAutoWidth(true);
    line.setCaseInsensitiveEnumValuesAllowed(true);
    return line;
  }

  @Override
  public void run() {
    usage();
  }

  private static int wrongUse(CommandLine.ParameterException wrong, String[] args) {
    CommandLine line = wrong.getCommandLine();
    String command = line.getCommandSpec().qualifiedName();
    line.getErr()
        .println(
            "scenespan: "
                + oneLine(wrong.getMessage())
                + SettingsInForce.blame(line, wrong.getMessage())
                + "; see: "
                + command
                + " --help");
    return ExitCode.WRONG_USE;
  }

  private static int failed(Exception failure, CommandLine line, CommandLine.ParseResult parsed)
      throws Exception {
    PrintWriter err = line.getErr();
    if (failure instanceof IllegalArgumentException
        || failure instanceof IOException
        || failure instanceof UncheckedIOException) {
      String told = oneLine(told(failure));
      err.println("scenespan: " + told + SettingsInForce.blame(line, told));
      return ExitCode.WRONG_USE;
    }
    if (failure instanceof InterruptedException) {
      return ExitCode.INTERRUPTED;
    }
    throw failure;
  }

  /** Some of a file system's exceptions have nothing but the file's name for a message. */
  private static String told(Exception failure) {
    Throwable cause = failure instanceof UncheckedIOException ? failure.getCause() : failure;
    if (cause instanceof FileSystemException file && file.getReason() == null) {
      String what =
          file instanceof AccessDeniedException
              ? "may not be read or written here"
              : file instanceof NoSuchFileException
                  ? "does not exist"
                  : file instanceof FileAlreadyExistsException
                      ? "exists already"
                      : "cannot be used";
      return "\"" + file.getFile() + "\" " + what;
    }
    return failure.getMessage();
  }

  private static String oneLine(String message) {
    return message == null ? "no reason given" : message.strip().replaceAll("\\s*\\R\\s*", " ");
  }

  /** The version that the jar's manifest names. */
  static final class Version implements IVersionProvider {
    @Override
    public String[] getVersion() {
      return new String[] {"scenespan " + text()};
    }

    static String text() {
      String version = Main.class.getPackage().getImplementationVersion();
      return version == null ? "development" : version;
    }
  }
}

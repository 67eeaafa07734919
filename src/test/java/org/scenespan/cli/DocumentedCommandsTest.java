package org.scenespan.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import picocli.CommandLine;

/**
 * Every command that the README and the pages in docs/ show is run, in the order of the page; one
 * that waits for a camera, a trigger or a browser is read with all its options instead. Blocks
 * marked {@code text} are output, or need what no test has.
 */
@Timeout(300)
class DocumentedCommandsTest {
  private static final Pattern START =
      Pattern.compile("(?:java [^|&]*-jar target/)?scenespan(?:\\.jar)? (.*)");
  private static final Pattern INLINE = Pattern.compile("`([^`\\n]+)`");

  /** They go on until somebody ends them. */
  private static final Set<String> WAITING = Set.of("demo", "tether", "emulate");

  /** What stands for a file of the reader's own. */
  private static final Pattern OWN_FILE = Pattern.compile("[a-z][a-z0-9-]*\\.[a-z]{3,5}");

  @TempDir private Path directory;
  private Optional<String> session = Optional.empty();

  static List<Path> pages() throws IOException {
    List<Path> pages = new ArrayList<>(List.of(Path.of("README.md")));
    try (Stream<Path> all = Files.walk(Path.of("docs"))) {
      all.filter(page -> page.toString().endsWith(".md")).sorted().forEach(pages::add);
    }
    return pages;
  }

  @Test
  void seesTheCommandsOfAPage() throws IOException {
    assertTrue(blocks(Path.of("docs/guide/first-bracket.md")).size() >= 4);
    assertTrue(pages().size() > 10);
  }

  @ParameterizedTest
  @MethodSource("pages")
  void doesWhatThePageShows(Path page) throws IOException {
    for (String command : blocks(page)) {
      String told = page + ": " + command;
      List<String> words = words(command);
      CommandLine.ParseResult parsed = parsed(words, told);
      CommandLine.Model.CommandSpec spec = last(parsed).commandSpec();
      boolean waits = words.contains("--port") || words.contains("--by-hand");
      if (waits || WAITING.contains(spec.name())) {
        continue;
      }
      own(words, spec, "--sessions");
      own(words, spec, "--profiles");
      own(words, spec, "--camera-profiles");
      Ran ran = Ran.of(words.toArray(String[]::new));
      assertTrue(
          ran.code() == ExitCode.DONE || ran.code() == ExitCode.NOT_COVERED, told + ran.err());
      assertFalse(ran.out().isEmpty(), told);
    }
  }

  /** What a sentence mentions is there: the command and each of its options. */
  @ParameterizedTest
  @MethodSource("pages")
  void mentionsWhatThereIs(Path page) throws IOException {
    Matcher matcher = INLINE.matcher(Files.readString(page));
    while (matcher.find()) {
      Matcher start = START.matcher(matcher.group(1));
      if (!start.matches()) {
        continue;
      }
      CommandLine line = Main.commandLine();
      for (String word : start.group(1).split("\\s+")) {
        if (line.getSubcommands().containsKey(word)) {
          line = line.getSubcommands().get(word);
        } else if (word.startsWith("--")) {
          assertNotNull(
              line.getCommandSpec().findOption(word), page + " mentions " + matcher.group(1));
        }
      }
      assertFalse(line.getParent() == null && !start.group(1).startsWith("-"), matcher.group(1));
    }
  }

  private static List<String> blocks(Path page) throws IOException {
    List<String> commands = new ArrayList<>();
    boolean within = false;
    boolean shown = false;
    String begun = "";
    for (String line : Files.readAllLines(page)) {
      String text = line.strip();
      if (text.startsWith("```")) {
        within = !within;
        shown = within && !text.startsWith("```text");
        continue;
      }
      if (within && shown) {
        String whole = begun + text;
        if (whole.endsWith("\\")) {
          begun = whole.substring(0, whole.length() - 1);
          continue;
        }
        begun = "";
        Matcher start = START.matcher(whole.replaceFirst("^mvn [^&]*&& ", ""));
        if (start.matches()) {
          commands.add(start.group(1).replaceFirst("\\s+#.*", ""));
        }
      }
    }
    return commands;
  }

  private List<String> words(String command) throws IOException {
    List<String> words = new ArrayList<>();
    for (String word : command.split("\\s+")) {
      switch (word) {
        case "SESSION" -> words.add(words.contains("resume") ? interrupted() : session());
        case "FILE", "FILE…" -> words.addAll(frames());
        case "frames" -> words.add(Files.createDirectories(directory.resolve("frames")).toString());
        default ->
            words.add(OWN_FILE.matcher(word).matches() ? directory.resolve(word).toString() : word);
      }
    }
    return words;
  }

  /** A bracket that the reader has taken before. */
  private String session() throws IOException {
    if (session.isEmpty()) {
      Path sessions = directory.resolve("sessions");
      assertEquals(0, Ran.line("bracket --simulate window --sessions " + sessions).code());
      try (Stream<Path> all = Files.list(sessions)) {
        session = Optional.of(all.sorted().findFirst().orElseThrow().getFileName().toString());
      }
    }
    return session.get();
  }

  /** The same, with the power cut before its last records. */
  private String interrupted() throws IOException {
    Path journal = directory.resolve("sessions").resolve(session()).resolve("journal.jsonl");
    List<String> records = Files.readAllLines(journal);
    Files.write(journal, records.subList(0, records.size() - 2));
    return session();
  }

  private List<String> frames() throws IOException {
    Path folder = directory.resolve("sessions").resolve(session()).resolve("frames");
    try (Stream<Path> all = Files.list(folder)) {
      return all.map(Path::toString).sorted().toList();
    }
  }

  private static CommandLine.ParseResult parsed(List<String> words, String told) {
    try {
      return Main.commandLine().parseArgs(words.toArray(String[]::new));
    } catch (CommandLine.ParameterException wrong) {
      throw new AssertionError(told, wrong);
    }
  }

  private static CommandLine.ParseResult last(CommandLine.ParseResult parsed) {
    CommandLine.ParseResult last = parsed;
    while (last.hasSubcommand()) {
      last = last.subcommand();
    }
    return last;
  }

  /** Nothing is kept where the reader of this machine keeps things. */
  private void own(List<String> words, CommandLine.Model.CommandSpec spec, String option) {
    if (spec.findOption(option) != null && !words.contains(option)) {
      words.add(option);
      words.add(directory.resolve(option.substring(2)).toString());
    }
  }
}

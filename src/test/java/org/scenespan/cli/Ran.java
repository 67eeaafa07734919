package org.scenespan.cli;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.util.ArrayList;
import java.util.List;
import picocli.CommandLine;

/**
 * A command that was run in this process.
 *
 * @param code its exit code
 * @param out what it wrote on standard output
 * @param err what it wrote on standard error
 */
record Ran(int code, String out, String err) {
  static Ran of(String... words) {
    StringWriter out = new StringWriter();
    StringWriter err = new StringWriter();
    CommandLine line = Main.commandLine();
    line.setOut(new PrintWriter(out, true));
    line.setErr(new PrintWriter(err, true));
    int code = line.execute(words);
    return new Ran(code, out.toString(), err.toString());
  }

  /** A command line as one text, with words between spaces, and more words behind it. */
  static Ran line(String text, String... more) {
    List<String> words = new ArrayList<>(List.of(text.strip().split("\\s+")));
    words.addAll(List.of(more));
    return of(words.toArray(String[]::new));
  }
}

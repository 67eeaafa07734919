package org.scenespan.dashboard;

import java.net.URI;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.UnaryOperator;
import java.util.regex.MatchResult;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

/**
 * A script or a style sheet as one text with all that it imports, so that a browser asks once for
 * what is kept in many small files.
 *
 * <p>Scripts are taken in the one form that the page's own have: imports of names or of a whole
 * module, and exports that are functions or constants, each at the start of a line (ECMA-262,
 * section 16.2). Any other form is refused, rather than joined wrongly.
 */
final class Joined {
  private static final Pattern IMPORT =
      Pattern.compile(
          "^import (?:\\* as (\\w+)|\\{([^}]*)\\}) from \"(\\.[^\"]+)\";$", Pattern.MULTILINE);

  private static final Pattern EXPORT =
      Pattern.compile("^export ((?:async )?function|const) (\\w++)(?!\\$)", Pattern.MULTILINE);

  private static final Pattern OTHER_FORM =
      Pattern.compile(
          "^\\s*(?:import|export)\\b.*|;[ \t]*(?:import|export)\\b.*|\\bimport[.(].*",
          Pattern.MULTILINE);

  /** At the top level nothing is indented. */
  private static final Pattern AWAIT = Pattern.compile("^\\S.*\\bawait\\b.*", Pattern.MULTILINE);

  /** Of sheets in the same folder; what it imports stands before all rules (CSS Cascade 5, 2). */
  private static final Pattern SHEET = Pattern.compile("^@import \"([\\w.-]+)\";\n");

  private final UnaryOperator<String> texts;

  /** The modules that were met; empty while what one imports is being met. */
  private final Map<String, Optional<Module>> met = new HashMap<>();

  /**
   * A module that stands in the text.
   *
   * @param name of the constant that holds what it exports
   */
  private record Module(String name, Set<String> exported) {}

  private final StringBuilder text = new StringBuilder();

  private Joined(UnaryOperator<String> texts) {
    this.texts = texts;
  }

  /**
   * Joins a script and all that it imports. Each imported module is a function that is called once,
   * where a browser would have run the module, and gives what it exports; the script itself comes
   * last and at the top level, where it may await.
   *
   * @param name relative to the page, with slashes
   * @param texts gives the text of a file, by such a name
   * @throws IllegalArgumentException if a module has another form, or imports itself
   */
  static String script(String name, UnaryOperator<String> texts) {
    Joined joined = new Joined(texts);
    String own = joined.withoutImports(name, texts.apply(name));
    return joined.text + withoutExports(own);
  }

  /** Joins a style sheet and those that its first lines import, in their order. */
  static String sheet(String name, UnaryOperator<String> texts) {
    String folder = name.substring(0, name.lastIndexOf('/') + 1);
    String left = texts.apply(name);
    StringBuilder joined = new StringBuilder();
    for (Matcher next = SHEET.matcher(left); next.find(); next = SHEET.matcher(left)) {
      joined.append(sheet(folder + next.group(1), texts)).append('\n');
      left = left.substring(next.end());
    }
    if (left.contains("@import")) {
      throw new IllegalArgumentException(name + " imports in a form that cannot be joined");
    }
    return joined.append(left).toString();
  }

  /** Puts the modules that a text imports before it, and gives what is left of it. */
  private String withoutImports(String name, String source) {
    String own =
        IMPORT.matcher(source).replaceAll(found -> Matcher.quoteReplacement(taken(name, found)));
    Matcher other = OTHER_FORM.matcher(withoutExports(own));
    if (other.find()) {
      throw new IllegalArgumentException(name + " cannot be joined: " + other.group());
    }
    return own;
  }

  private static String withoutExports(String own) {
    return EXPORT.matcher(own).replaceAll("$1 $2");
  }

  private String taken(String name, MatchResult found) {
    String from = resolved(name, found.group(3));
    Module module = module(from);
    if (found.group(1) != null) {
      return "const " + found.group(1) + " = " + module.name() + ";";
    }
    String names = found.group(2);
    for (String each : names.split(",")) {
      String exported = each.strip().split(" ")[0];
      if (!exported.isEmpty() && !module.exported().contains(exported)) {
        throw new IllegalArgumentException(from + " exports no " + exported + ", for " + name);
      }
    }
    return "const {" + names.replace(" as ", ": ") + "} = " + module.name() + ";";
  }

  /** Adds a module, if it does not stand in the text yet. */
  private Module module(String name) {
    if (met.containsKey(name)) {
      return met.get(name)
          .orElseThrow(
              () -> new IllegalArgumentException(name + " imports itself, by way of others"));
    }
    met.put(name, Optional.empty());
    // No name of the page's own begins so.
    String constant = "$" + met.size();
    String own = withoutImports(name, texts.apply(name));
    Matcher await = AWAIT.matcher(own);
    if (await.find()) {
      throw new IllegalArgumentException(name + " cannot be joined: " + await.group());
    }
    Set<String> exported =
        EXPORT
            .matcher(own)
            .results()
            .map(each -> each.group(2))
            .collect(Collectors.toCollection(LinkedHashSet::new));
    text.append("// ").append(name).append("\nconst ").append(constant).append(" = (() => {\n");
    text.append(withoutExports(own)).append("\nreturn { ");
    text.append(String.join(", ", exported)).append(" };\n})();\n");
    Module module = new Module(constant, exported);
    met.put(name, Optional.of(module));
    return module;
  }

  private static String resolved(String name, String relative) {
    return URI.create("/" + name).resolve(relative).getPath().substring(1);
  }
}

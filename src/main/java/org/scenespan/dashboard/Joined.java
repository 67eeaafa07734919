package org.scenespan.dashboard;

import java.net.URI;
import java.util.HashMap;
import java.util.Map;
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
      Pattern.compile("^export ((?:async )?function|const) (\\w+)", Pattern.MULTILINE);

  private static final Pattern OTHER_FORM =
      Pattern.compile("^(?:import|export)\\b.*|\\bimport\\(.*", Pattern.MULTILINE);

  /** Of sheets in the same folder; what it imports stands before all rules (CSS Cascade 5, 2). */
  private static final Pattern SHEET = Pattern.compile("^@import \"([\\w.-]+)\";\n");

  private final UnaryOperator<String> texts;

  /** The modules whose imports have all been met, each by the name of what it exports. */
  private final Map<String, String> met = new HashMap<>();

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
    String module = module(resolved(name, found.group(3)));
    String whole = found.group(1);
    String names = whole == null ? "{" + found.group(2).replace(" as ", ": ") + "}" : whole;
    return "const " + names + " = " + module + ";";
  }

  /** Adds a module, if it has not been, and gives the name of what it exports. */
  private String module(String name) {
    if (met.containsKey(name)) {
      String before = met.get(name);
      if (before == null) {
        throw new IllegalArgumentException(name + " imports itself, by way of others");
      }
      return before;
    }
    met.put(name, null);
    // No name of the page's own begins so.
    String module = "$" + met.size();
    String own = withoutImports(name, texts.apply(name));
    String exported =
        EXPORT.matcher(own).results().map(each -> each.group(2)).collect(Collectors.joining(", "));
    text.append("// ").append(name).append("\nconst ").append(module).append(" = (() => {\n");
    text.append(withoutExports(own)).append("return { ").append(exported).append(" };\n})();\n");
    met.put(name, module);
    return module;
  }

  private static String resolved(String name, String relative) {
    return URI.create("/" + name).resolve(relative).getPath().substring(1);
  }
}

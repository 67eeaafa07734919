package org.scenespan.control;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.Map;

/** Files that are handed to other programs, beside the photographer's and never in their place. */
final class Handover {
  private Handover() {}

  /**
   * Writes all of them, or none if one is in the way.
   *
   * @param files texts by name
   * @param to is created if it is not there
   * @throws IllegalArgumentException if a file is there already
   */
  static void write(Map<String, String> files, Path to) throws IOException {
    Files.createDirectories(to);
    for (String file : files.keySet()) {
      if (Files.exists(to.resolve(file))) {
        throw new IllegalArgumentException(
            "\"" + to.resolve(file) + "\" is there already and is left alone; name another folder");
      }
    }
    for (Map.Entry<String, String> file : files.entrySet()) {
      Files.writeString(
          to.resolve(file.getKey()),
          file.getValue(),
          StandardCharsets.UTF_8,
          StandardOpenOption.CREATE_NEW);
    }
  }

  /** A file's name without its ending and its folders. */
  static String stem(String file) {
    String name = Path.of(file).getFileName().toString();
    int dot = name.lastIndexOf('.');
    return dot > 0 ? name.substring(0, dot) : name;
  }

  /** A field as RFC 4180 has it. */
  static String quoted(String text) {
    return text.matches("[A-Za-z0-9_.-]*") ? text : "\"" + text.replace("\"", "\"\"") + "\"";
  }

  /** A text in XML 1.0: markup escaped, and without characters that it cannot hold. */
  static String escaped(String text) {
    return text.replaceAll("[\\x00-\\x08\\x0b\\x0c\\x0e-\\x1f\\ufffe\\uffff]", "")
        .replace("&", "&amp;")
        .replace("<", "&lt;")
        .replace(">", "&gt;");
  }
}

package org.scenespan.trigger;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.regex.PatternSyntaxException;

/**
 * What a whole reply line looks like, with named groups for what it carries.
 *
 * @param pattern a Java regular expression; the whole line must match
 * @param groups the names of its groups, in order
 */
public record ReplyPattern(Pattern pattern, List<String> groups) {
  private static final Pattern GROUP = Pattern.compile("\\(\\?<([a-zA-Z][a-zA-Z0-9]*)>");

  public ReplyPattern {
    groups = List.copyOf(groups);
  }

  /**
   * Reads a regular expression.
   *
   * @throws PatternSyntaxException if it is none
   */
  public static ReplyPattern of(String regex) {
    Pattern pattern = Pattern.compile(regex);
    List<String> groups = new ArrayList<>();
    Matcher names = GROUP.matcher(regex);
    while (names.find()) {
      if (isGroup(regex, names.group(1))) {
        groups.add(names.group(1));
      }
    }
    return new ReplyPattern(pattern, groups);
  }

  /** The search also finds an escaped bracket; a back reference compiles only to a true group. */
  private static boolean isGroup(String regex, String name) {
    try {
      Pattern.compile(regex + "\\k<" + name + ">");
      return true;
    } catch (PatternSyntaxException noSuchGroup) {
      return false;
    }
  }

  /** The groups' texts if the line matches; a group that took no part is left out. */
  public Optional<Map<String, String>> match(String line) {
    Matcher matcher = pattern.matcher(line);
    if (!matcher.matches()) {
      return Optional.empty();
    }
    Map<String, String> found = new LinkedHashMap<>();
    for (String group : groups) {
      if (matcher.group(group) != null) {
        found.put(group, matcher.group(group));
      }
    }
    return Optional.of(found);
  }
}

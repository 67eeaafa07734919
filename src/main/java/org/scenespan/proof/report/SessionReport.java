package org.scenespan.proof.report;

import java.io.BufferedWriter;
import java.io.IOException;
import java.io.Writer;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.time.Instant;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.scenespan.session.Event;
import org.scenespan.session.LapseSetup;
import org.scenespan.session.Setup;
import org.scenespan.session.State;
import org.scenespan.session.TetherSetup;

/**
 * A session's report: one HTML page that carries its pictures and drawings in itself, asks for
 * nothing from outside, runs no script, and prints on A4.
 */
public final class SessionReport {
  private static final DateTimeFormatter DAY =
      DateTimeFormatter.ofPattern("d MMMM uuuu, HH:mm:ss XXX", Locale.ENGLISH);
  private static final DateTimeFormatter TIME =
      DateTimeFormatter.ofPattern("HH:mm:ss", Locale.ENGLISH);

  /** More sentences than this are no reading; the journal has them all. */
  static final int MOST_SENTENCES = 1000;

  private final State state;
  private final Setup setup;
  private final List<Told> told;
  private final List<Event.FrameMatched> matched;
  private final Path previews;
  private final ZoneId zone;

  /**
   * @param state of the session, finished or not
   * @param told what happened in it, the oldest first
   * @param matched the frames of a lapse, which its state does not keep; empty of any other session
   * @param previews where its small pictures are
   * @param zone in which the times of day are told
   */
  public SessionReport(
      State state, List<Told> told, List<Event.FrameMatched> matched, Path previews, ZoneId zone) {
    this.state = state;
    this.setup = state.opened();
    this.told = List.copyOf(told);
    this.matched = List.copyOf(matched);
    this.previews = previews;
    this.zone = zone;
  }

  /**
   * Writes the page, beside its place first and then under its name.
   *
   * @throws IOException if it cannot be written
   */
  public void write(Path file) throws IOException {
    Path half = file.resolveSibling(file.getFileName() + ".part");
    try {
      try (BufferedWriter writer = Files.newBufferedWriter(half)) {
        write(writer);
      }
      Files.move(half, file, StandardCopyOption.REPLACE_EXISTING);
    } catch (Markup.Unwritten failed) {
      throw new IOException(failed.getMessage(), failed);
    } finally {
      Files.deleteIfExists(half);
    }
  }

  private void write(Writer writer) {
    Markup page = new Markup(writer);
    Kind kind = kind();
    page.in(
        "html",
        new String[] {"lang", "en"},
        () -> {
          head(page);
          page.in("body", () -> body(page, kind));
        });
    page.close();
  }

  private Kind kind() {
    if (setup instanceof TetherSetup tether) {
      return new TetherKind(state, tether);
    }
    return setup instanceof LapseSetup lapse
        ? new LapseKind(state, lapse, matched)
        : new BracketKind(state);
  }

  private void head(Markup page) {
    page.in(
        "head",
        () -> {
          page.empty("meta", "charset", "utf-8");
          page.empty(
              "meta",
              "http-equiv",
              "Content-Security-Policy",
              "content",
              "default-src 'none'; img-src data:; style-src 'unsafe-inline'");
          page.empty("meta", "name", "viewport", "content", "width=device-width");
          page.text("title", title());
          page.text("style", Paper.STYLE);
        });
  }

  private String title() {
    String kind = setup.kind();
    return kind.substring(0, 1).toUpperCase(Locale.ROOT)
        + kind.substring(1)
        + " "
        + setup.session();
  }

  private void body(Markup page, Kind kind) {
    page.text("h1", title());
    page.text(
        "p",
        state
            .report()
            .map(it -> it.why())
            .orElse("This session is not finished; the report shows it as far as it went."),
        "class",
        "outcome");
    facts(page, kind);
    alarms(page);
    page.text("h2", "How it went");
    kind.drawings(page);
    table(page, kind);
    new ContactSheet(page, new SmallPictures(previews)).write(kind.frames());
    sentences(page);
    page.text(
        "p",
        "EV is at ISO 100 throughout; a bigger EV is a brighter scene and a darker exposure. Stops"
            + " below clipping are of linear light. The frames themselves were only read.",
        "class",
        "foot");
  }

  private void facts(Markup page, Kind kind) {
    List<String> facts = new ArrayList<>();
    state.openedAt().ifPresent(at -> add(facts, "Begun", DAY.format(at.atZone(zone))));
    state
        .report()
        .ifPresent(
            it -> add(facts, "Took", String.format(Locale.ROOT, "%.1f s", it.elapsedSeconds())));
    add(facts, "Light", setup.gear().source());
    add(facts, "Trigger", setup.gear().trigger().isEmpty() ? "none" : setup.gear().trigger());
    facts.addAll(kind.asked());
    add(facts, "Program", "scenespan " + setup.program());
    page.in(
        "table",
        new String[] {"class", "facts"},
        () -> {
          for (int i = 0; i < facts.size(); i += 2) {
            String name = facts.get(i);
            String value = facts.get(i + 1);
            page.in(
                "tr",
                () -> {
                  page.text("th", name, "scope", "row");
                  page.text("td", value);
                });
          }
        });
  }

  private static void add(List<String> facts, String name, String value) {
    facts.add(name);
    facts.add(value);
  }

  private void alarms(Markup page) {
    page.text("h2", "Alarms");
    List<Told> alarms = told.stream().filter(Told::isAlarm).toList();
    if (alarms.isEmpty()) {
      page.text("p", "None.");
    } else {
      list(page, alarms);
    }
  }

  private void sentences(Markup page) {
    page.text("h2", "What was decided, and why");
    list(page, told);
  }

  private void list(Markup page, List<Told> all) {
    List<Told> shown = all.subList(0, Math.min(all.size(), MOST_SENTENCES));
    page.in(
        "ol",
        new String[] {"class", "told"},
        () -> {
          for (Told one : shown) {
            page.in(
                "li",
                () -> {
                  page.text("time", time(one.at()));
                  String words = one.words().strip();
                  page.words(" " + (one.isAlarm() ? words.substring(Told.ALARM.length()) : words));
                });
          }
        });
    if (shown.size() < all.size()) {
      page.text(
          "p", "And " + (all.size() - shown.size()) + " more, which the session's journal has.");
    }
  }

  private String time(Instant at) {
    return TIME.format(at.atZone(zone));
  }

  private static void table(Markup page, Kind kind) {
    List<List<String>> rows = kind.rows();
    if (rows.isEmpty()) {
      page.text("p", "There are no frames.");
      return;
    }
    page.text("h2", "Exposures");
    page.in(
        "table",
        new String[] {"class", "frames"},
        () -> {
          page.in(
              "thead",
              () ->
                  page.in(
                      "tr",
                      () -> kind.heads().forEach(head -> page.text("th", head, "scope", "col"))));
          page.in(
              "tbody",
              () -> {
                for (List<String> row : rows) {
                  page.in("tr", () -> row.forEach(cell -> page.text("td", cell)));
                }
              });
        });
  }
}

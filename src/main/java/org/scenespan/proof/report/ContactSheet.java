package org.scenespan.proof.report;

import static org.scenespan.proof.report.Markup.at;

import java.util.ArrayList;
import java.util.List;
import java.util.TreeSet;
import org.scenespan.frame.LogHistogram;

/** Small pictures of a session's frames, each with its histogram and what is said of it. */
final class ContactSheet {
  /** More pictures make a page that a browser is slow to print, and about 10 MB. */
  static final int MOST = 400;

  private static final double WIDTH = 194;
  private static final double HEIGHT = 34;

  private final Markup page;
  private final SmallPictures pictures;

  ContactSheet(Markup page, SmallPictures pictures) {
    this.page = page;
    this.pictures = pictures;
  }

  void write(List<SheetFrame> frames) {
    List<SheetFrame> shown = chosen(frames);
    page.text("h2", "Frames");
    page.text(
        "p",
        (shown.size() < frames.size()
                ? shown.size()
                    + " of "
                    + frames.size()
                    + " frames: those with something to look at"
                    + " and others evenly between them. "
                : "")
            + "Under each picture its luminance in stops below clipping, which is at the right"
            + " edge.");
    page.in("div", new String[] {"class", "sheet"}, () -> shown.forEach(this::one));
  }

  /** All frames, or of too many those that are told and an even choice of the others. */
  static List<SheetFrame> chosen(List<SheetFrame> frames) {
    if (frames.size() <= MOST) {
      return frames;
    }
    TreeSet<Integer> places = new TreeSet<>();
    List<Integer> told = new ArrayList<>();
    for (int i = 0; i < frames.size(); i++) {
      if (frames.get(i).told()) {
        told.add(i);
      }
    }
    int room = Math.min(told.size(), MOST / 2);
    for (int i = 0; i < room; i++) {
      places.add(told.get((int) ((long) i * told.size() / room)));
    }
    int even = MOST - places.size();
    for (int i = 0; i < even; i++) {
      places.add((int) ((long) i * (frames.size() - 1) / (even - 1)));
    }
    return places.stream().map(frames::get).toList();
  }

  private void one(SheetFrame frame) {
    page.in(
        "div",
        new String[] {"class", frame.told() ? "frame told" : "frame"},
        () -> {
          frame
              .preview()
              .flatMap(pictures::address)
              .ifPresentOrElse(
                  address -> page.empty("img", "src", address, "alt", "Frame " + frame.title()),
                  () -> page.text("p", "No picture was kept.", "class", "none"));
          histogram(frame.measure().luminance());
          page.text("p", frame.title(), "class", "title");
          frame.lines().forEach(line -> page.text("p", line));
        });
  }

  /** The square root of the counts, so that small parts of the picture are seen too. */
  private void histogram(LogHistogram histogram) {
    long most = 1;
    for (long count : histogram.counts()) {
      most = Math.max(most, count);
    }
    int bins = LogHistogram.SATURATED_BIN + 1;
    StringBuilder path = new StringBuilder();
    for (int bin = 0; bin < bins; bin++) {
      if (histogram.count(bin) > 0) {
        double top = HEIGHT * (1 - Math.sqrt((double) histogram.count(bin) / most));
        path.append("M").append(at(WIDTH * bin / bins)).append(' ').append(at(HEIGHT));
        path.append("V").append(at(top));
        path.append("H").append(at(WIDTH * (bin + 1) / bins));
        path.append("V").append(at(HEIGHT)).append("Z");
      }
    }
    page.in(
        "svg",
        new String[] {"viewBox", "0 0 " + at(WIDTH) + " " + at(HEIGHT), "aria-hidden", "true"},
        () -> page.empty("path", "class", "counts", "d", path.toString()));
  }
}

package org.scenespan.control;

import java.io.IOException;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import org.scenespan.frame.Deviation;
import org.scenespan.session.Event;
import org.scenespan.session.Mark;
import org.scenespan.session.State;

/**
 * Hands the marks of a tether or a bracket over: a table of all frames, and an XMP sidecar (ISO
 * 16684-1) for each frame that was kept, rejected or noted. Nothing that is there already is
 * touched.
 */
final class MarksExport {
  /** The table. */
  static final String TABLE = "marks.csv";

  /** XMP's own values of {@code xmp:Rating}: 0 is unrated, -1 rejected, 1 to 5 stars. */
  private static final int KEPT = 1;

  private static final int REJECTED = -1;

  private MarksExport() {}

  /**
   * @param to is created if it is not there
   * @throws IllegalArgumentException if there is nothing to hand over, or a file is in the way
   * @throws IOException if something cannot be written
   */
  static SessionExport.Written write(State state, String name, Path to) throws IOException {
    if (state.setup().isEmpty()) {
      throw new IllegalArgumentException(
          "session \"" + name + "\" ended before anything was decided: nothing to hand over");
    }
    boolean tether = isTether(state);
    if (!tether && state.tether().marks().isEmpty()) {
      throw new IllegalArgumentException(
          "session \""
              + name
              + "\" is no lapse and no tether, and none of its frames is marked: there is nothing to"
              + " hand over");
    }
    Map<String, String> files = new LinkedHashMap<>();
    files.put(TABLE, tether ? table(state) : table(frames(state), state));
    int sidecars = 0;
    int index = 0;
    for (String frame : frames(state)) {
      index++;
      Event.FrameMarked mark = state.tether().marks().get(frame);
      if (isSaid(mark)) {
        String sidecar = Handover.stem(frame);
        String own = files.containsKey(sidecar + ".xmp") ? sidecar + "-" + index : sidecar;
        files.put(own + ".xmp", sidecar(mark));
        sidecars++;
      }
    }
    Handover.write(files, to);
    return new SessionExport.Written(List.of(TABLE), sidecars);
  }

  private static boolean isTether(State state) {
    return state.opened().kind().equals("tether");
  }

  /** Whether there is anything to hand over of a mark, which may be null. */
  static boolean isSaid(Event.FrameMarked mark) {
    return mark != null && (mark.mark() != Mark.NONE || !mark.note().isEmpty());
  }

  private static List<String> frames(State state) {
    return isTether(state)
        ? state.tether().frames().stream().map(frame -> frame.frame().file()).toList()
        : state.frames().stream().map(frame -> frame.frame().file()).toList();
  }

  /** What was said of some frames. */
  static String table(List<String> frames, State state) {
    StringBuilder csv = new StringBuilder("index,file,mark,note\r\n");
    int index = 0;
    for (String file : frames) {
      index++;
      Event.FrameMarked mark = state.tether().marks().get(file);
      csv.append(index).append(',').append(Handover.quoted(file)).append(',');
      csv.append(mark == null ? Mark.NONE.label() : mark.mark().label()).append(',');
      csv.append(Handover.quoted(mark == null ? "" : mark.note())).append("\r\n");
    }
    return csv.toString();
  }

  private static String table(State state) {
    StringBuilder csv = new StringBuilder();
    csv.append("index,file,mark,note,exposure_stops,red_to_green,blue_to_green,findings\r\n");
    for (Event.FrameWatched frame : state.tether().frames()) {
      Optional<Event.FrameMarked> mark =
          Optional.ofNullable(state.tether().marks().get(frame.frame().file()));
      Optional<Deviation> deviation = frame.deviation();
      csv.append(frame.index()).append(',');
      csv.append(Handover.quoted(frame.frame().file())).append(',');
      csv.append(mark.map(it -> it.mark().label()).orElse(Mark.NONE.label())).append(',');
      csv.append(Handover.quoted(mark.map(Event.FrameMarked::note).orElse(""))).append(',');
      csv.append(deviation.map(it -> number(it.exposure().value())).orElse("")).append(',');
      csv.append(deviation.map(it -> number(it.redToGreen())).orElse("")).append(',');
      csv.append(deviation.map(it -> number(it.blueToGreen())).orElse("")).append(',');
      csv.append(
          Handover.quoted(
              frame.findings().stream()
                  .map(finding -> finding.kind().label())
                  .collect(Collectors.joining(" "))));
      csv.append("\r\n");
    }
    return csv.toString();
  }

  private static String number(double value) {
    return String.format(Locale.ROOT, "%.4f", value);
  }

  private static String sidecar(Event.FrameMarked mark) {
    return String.format(
        Locale.ROOT,
        """
        <?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>
        <x:xmpmeta xmlns:x="adobe:ns:meta/">
          <rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
        %s  </rdf:RDF>
        </x:xmpmeta>
        <?xpacket end="r"?>
        """,
        description(mark));
  }

  /** A mark as an XMP description, indented for a packet. */
  static String description(Event.FrameMarked mark) {
    int rating =
        switch (mark.mark()) {
          case KEEP -> KEPT;
          case REJECT -> REJECTED;
          case NONE -> 0;
        };
    String note =
        mark.note().isEmpty()
            ? ""
            : "      <dc:description>\n"
                + "        <rdf:Alt><rdf:li xml:lang=\"x-default\">"
                + Handover.escaped(mark.note())
                + "</rdf:li></rdf:Alt>\n"
                + "      </dc:description>\n";
    return "    <rdf:Description rdf:about=\"\" xmlns:xmp=\"http://ns.adobe.com/xap/1.0/\"\n"
        + "        xmlns:dc=\"http://purl.org/dc/elements/1.1/\">\n"
        + "      <xmp:Rating>"
        + rating
        + "</xmp:Rating>\n"
        + note
        + "    </rdf:Description>\n";
  }
}

package org.scenespan.control;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.scenespan.light.Stops;
import org.scenespan.session.Event;
import org.scenespan.session.State;

/**
 * Hands a finished lapse over to development: its evening gains as a table, as JSON, and as an XMP
 * sidecar a frame (ISO 16684-1). Nothing that is there already is touched.
 */
final class LapseExport {
  /** The table. */
  private static final String TABLE = "evening.csv";

  /** The same as one JSON object. */
  private static final String OBJECT = "evening.json";

  /** The namespace of the properties in a sidecar; docs/lapse-export.md says what each means. */
  static final String NAMESPACE = "urn:scenespan:evening:1/";

  private LapseExport() {}

  /**
   * @param to is created if it is not there
   * @param state of a lapse
   * @throws IllegalArgumentException if the lapse is not finished, or a file is in the way
   * @throws IOException if something cannot be written
   */
  static SessionExport.Written write(State state, String name, Path to) throws IOException {
    if (!(state.report().orElse(null) instanceof Event.LapseReport report)) {
      throw new IllegalArgumentException(
          "session \""
              + name
              + "\" is not finished; go on with: scenespan sessions resume "
              + name);
    }
    Map<String, String> files = new LinkedHashMap<>();
    files.put(TABLE, table(report.frames()));
    files.put(OBJECT, object(name, report));
    List<String> tables = new ArrayList<>(List.of(TABLE, OBJECT));
    if (!state.tether().marks().isEmpty()) {
      List<String> framed =
          report.frames().stream().map(Event.LapseLine::file).flatMap(Optional::stream).toList();
      files.put(MarksExport.TABLE, MarksExport.table(framed, state));
      tables.add(MarksExport.TABLE);
    }
    int sidecars = 0;
    for (Event.LapseLine line : report.frames()) {
      if (line.file().isPresent() && line.gainStops().isPresent()) {
        String sidecar = Handover.stem(line.file().get()) + ".xmp";
        String own =
            files.containsKey(sidecar)
                ? Handover.stem(line.file().get()) + "-" + line.index() + ".xmp"
                : sidecar;
        files.put(own, sidecar(line, state.tether().marks().get(line.file().get())));
        sidecars++;
      }
    }
    Handover.write(files, to);
    return new SessionExport.Written(tables, sidecars);
  }

  private static String table(List<Event.LapseLine> lines) {
    StringBuilder csv = new StringBuilder();
    csv.append(
        "index,seconds,file,shutter_seconds,aperture,iso,ev,wish_stops,error_stops,gain_stops\r\n");
    for (Event.LapseLine line : lines) {
      csv.append(line.index()).append(',').append(number(line.seconds())).append(',');
      csv.append(line.file().map(Handover::quoted).orElse("")).append(',');
      csv.append(number(line.exposure().shutter().seconds())).append(',');
      csv.append(number(line.exposure().aperture().nominalNumber())).append(',');
      csv.append(number(line.exposure().iso().nominalSpeed())).append(',');
      csv.append(number(line.exposure().ev().value())).append(',');
      csv.append(number(line.wishStops().value())).append(',');
      csv.append(stops(line.errorStops())).append(',');
      csv.append(stops(line.gainStops())).append("\r\n");
    }
    return csv.toString();
  }

  private static String stops(Optional<Stops> stops) {
    return stops.map(it -> number(it.value())).orElse("");
  }

  private static String number(double value) {
    return String.format(Locale.ROOT, "%.6f", value).replaceAll("0+$", "").replaceAll("\\.$", "");
  }

  private static String object(String name, Event.LapseReport report) {
    ObjectNode node = JsonNodeFactory.instance.objectNode();
    node.put("session", name);
    node.put("kind", "lapse");
    node.put("intervalSeconds", report.intervalSeconds());
    ArrayNode frames = node.putArray("frames");
    for (Event.LapseLine line : report.frames()) {
      ObjectNode frame = frames.addObject();
      frame.put("index", line.index());
      frame.put("seconds", line.seconds());
      line.file().ifPresent(file -> frame.put("file", file));
      frame.put("ev", line.exposure().ev().value());
      frame.put("wishStops", line.wishStops().value());
      line.errorStops().ifPresent(it -> frame.put("errorStops", it.value()));
      line.gainStops().ifPresent(it -> frame.put("gainStops", it.value()));
    }
    return node.toPrettyString() + "\n";
  }

  /**
   * A packet as ISO 16684-1 has it, 7.3.2.
   *
   * @param mark what was said of the frame; null if nothing was
   */
  private static String sidecar(Event.LapseLine line, Event.FrameMarked mark) {
    return String.format(
        Locale.ROOT,
        """
        <?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>
        <x:xmpmeta xmlns:x="adobe:ns:meta/">
          <rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
            <rdf:Description rdf:about="" xmlns:evening="%s">
              <evening:GainStops>%s</evening:GainStops>
              <evening:Index>%d</evening:Index>
              <evening:Seconds>%s</evening:Seconds>
              <evening:WishStops>%s</evening:WishStops>
              <evening:ExposureEV>%s</evening:ExposureEV>
            </rdf:Description>
        %s  </rdf:RDF>
        </x:xmpmeta>
        <?xpacket end="r"?>
        """,
        NAMESPACE,
        stops(line.gainStops()),
        line.index(),
        number(line.seconds()),
        number(line.wishStops().value()),
        number(line.exposure().ev().value()),
        MarksExport.isSaid(mark) ? MarksExport.description(mark) : "");
  }
}

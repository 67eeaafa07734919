package org.scenespan.wire;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.scenespan.frame.Region;
import org.scenespan.light.Aperture;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Share;
import org.scenespan.light.Shutter;
import org.scenespan.light.Stops;
import org.scenespan.plan.ramp.Wish;
import org.scenespan.session.CameraClock;
import org.scenespan.session.Event;
import org.scenespan.session.Gear;
import org.scenespan.session.LapseSetup;
import org.scenespan.session.Match;
import org.scenespan.session.RigCheck;
import org.scenespan.session.Stopped;
import org.scenespan.sky.Place;

/** What only a lapse has, as JSON and back. */
final class LapseJson {
  private LapseJson() {}

  static void write(ObjectNode node, LapseSetup setup) {
    PartsJson.write(node.putObject("camera"), setup.camera());
    PartsJson.write(node.putObject("picture"), setup.picture());
    node.put("intervalSeconds", seconds(setup.cadence().interval()));
    node.put("gapSeconds", seconds(setup.cadence().gap()));
    node.put("frames", setup.cadence().frames());
    ObjectNode limits = node.putObject("limits");
    limits.put("darkestEv", Scalars.tidy(setup.latitude().darkest().ev().value()));
    limits.put("brightestEv", Scalars.tidy(setup.latitude().brightest().ev().value()));
    node.put("region", setup.region().label());
    ObjectNode wish = node.putObject("wish");
    ArrayNode points = wish.putArray("points");
    for (Wish.Point point : setup.wish().points()) {
      points
          .addObject()
          .put("sceneEv", point.scene().value())
          .put("pictureStops", point.picture().value());
    }
    wish.put("mostClippedFraction", setup.wish().mostClipped().value());
    wish.put("mostHeldStops", setup.wish().mostHeld().value());
    setup.start().ifPresent(ev -> node.put("startEv", ev.value()));
    setup.sky().ifPresent(sky -> write(node.putObject("sky"), sky));
    if (setup.rigCheck() != RigCheck.OFF) {
      node.put("rigCheck", setup.rigCheck().label());
    }
  }

  private static void write(ObjectNode node, LapseSetup.Sky sky) {
    node.put("latitude", sky.at().latitude());
    node.put("longitude", sky.at().longitude());
    sky.from().ifPresent(from -> node.put("from", from.toString()));
  }

  static void write(ObjectNode node, Gear.Light light) {
    light.table().ifPresent(file -> node.put("table", file));
    light.sky().ifPresent(sky -> write(node.putObject("sky"), sky));
    node.put("clouds", light.clouds());
    node.put("lensStops", light.lens().value());
  }

  static Gear.Light light(JsonNode node) {
    return new Gear.Light(
        Nodes.optionalText(node, "table"),
        node.hasNonNull("sky") ? Optional.of(sky(Nodes.object(node, "sky"))) : Optional.empty(),
        node.path("clouds").asBoolean(),
        new Stops(Nodes.number(node, "lensStops")));
  }

  static LapseSetup setup(JsonNode node) {
    JsonNode wish = Nodes.object(node, "wish");
    List<Wish.Point> points = new ArrayList<>();
    for (JsonNode point : wish.path("points")) {
      points.add(
          new Wish.Point(
              new Ev(Nodes.number(point, "sceneEv")),
              new Stops(Nodes.number(point, "pictureStops"))));
    }
    return new LapseSetup(
        Nodes.text(node, "session"),
        Nodes.text(node, "program"),
        PartsJson.gear(node),
        PartsJson.camera(Nodes.object(node, "camera")),
        PartsJson.picture(Nodes.object(node, "picture")),
        new LapseSetup.Cadence(
            duration(Nodes.number(node, "intervalSeconds")),
            duration(Nodes.number(node, "gapSeconds")),
            Nodes.integer(node, "frames")),
        Region.parse(Nodes.text(node, "region")),
        new Wish(
            points,
            new Share(Nodes.number(wish, "mostClippedFraction")),
            new Stops(Nodes.number(wish, "mostHeldStops"))),
        Nodes.optionalNumber(node, "startEv").map(Ev::new),
        node.hasNonNull("sky") ? Optional.of(sky(Nodes.object(node, "sky"))) : Optional.empty(),
        PartsJson.patience(Nodes.object(node, "patience")),
        Nodes.optionalText(node, "rigCheck").map(RigCheck::parse).orElse(RigCheck.OFF));
  }

  private static LapseSetup.Sky sky(JsonNode node) {
    return new LapseSetup.Sky(
        new Place(Nodes.number(node, "latitude"), Nodes.number(node, "longitude")),
        Nodes.optionalText(node, "from").map(Instant::parse));
  }

  private static double seconds(Duration time) {
    return time.toMillis() / 1000.0;
  }

  private static Duration duration(double seconds) {
    return Duration.ofMillis(Math.round(seconds * 1000));
  }

  static void write(ObjectNode node, Event.FrameMatched event, ObjectMapper mapper) {
    node.put("shot", event.shot());
    node.put("matched", event.matched().label());
    node.put("late", event.late());
    node.set("exposure", mapper.valueToTree(event.exposure()));
    put(node, "brightnessStops", event.brightness());
    put(node, "headroomStops", event.headroom());
    event.clock().ifPresent(clock -> write(node.putObject("cameraClock"), clock));
    SteadinessJson.write(node, event.steadiness());
    node.set("frame", FrameJson.write(event.frame()));
  }

  static Event.FrameMatched matched(JsonNode node, ObjectMapper mapper)
      throws JsonProcessingException {
    return new Event.FrameMatched(
        Nodes.integer(node, "shot"),
        mapper.treeToValue(node.get("matched"), Match.Proof.class),
        node.path("late").asBoolean(),
        mapper.treeToValue(node.get("exposure"), Exposure.class),
        stops(node, "brightnessStops"),
        stops(node, "headroomStops"),
        clock(node),
        SteadinessJson.read(node),
        FrameJson.read(Nodes.object(node, "frame")));
  }

  static void write(ObjectNode node, Event.FrameDoubted event) {
    node.put("shot", event.shot());
    put(node, "brightnessStops", event.brightness());
    node.put("reason", event.reason());
    node.set("frame", FrameJson.write(event.frame()));
  }

  static Event.FrameDoubted doubted(JsonNode node) {
    return new Event.FrameDoubted(
        Nodes.integer(node, "shot"),
        stops(node, "brightnessStops"),
        Nodes.text(node, "reason"),
        FrameJson.read(Nodes.object(node, "frame")));
  }

  static void write(ObjectNode node, CameraClock clock) {
    node.put("leastMillis", clock.least().toMillis());
    node.put("mostMillis", clock.most().toMillis());
  }

  static Optional<CameraClock> clock(JsonNode node) {
    if (!node.hasNonNull("cameraClock")) {
      return Optional.empty();
    }
    JsonNode offset = node.get("cameraClock");
    return Optional.of(
        new CameraClock(
            Duration.ofMillis(offset.path("leastMillis").asLong()),
            Duration.ofMillis(offset.path("mostMillis").asLong())));
  }

  static void write(ObjectNode node, Event.LapseReport report) {
    node.put("kind", report.kind());
    node.put("stopped", report.stopped().label());
    node.put("why", report.why());
    node.put("intervalSeconds", report.intervalSeconds());
    ArrayNode frames = node.putArray("frames");
    for (Event.LapseLine line : report.frames()) {
      ObjectNode frame = frames.addObject();
      frame.put("index", line.index());
      frame.put("seconds", Scalars.tidy(line.seconds()));
      line.file().ifPresent(file -> frame.put("file", file));
      frame.put("shutterSeconds", Scalars.seconds(line.exposure().shutter()));
      frame.put("aperture", Scalars.tidy(line.exposure().aperture().nominalNumber()));
      frame.put("iso", Math.round(line.exposure().iso().nominalSpeed()));
      frame.put("ev", Scalars.tidy(line.exposure().ev().value()));
      frame.put("wishStops", Scalars.tidy(line.wishStops().value()));
      put(frame, "errorStops", line.errorStops());
      put(frame, "gainStops", line.gainStops());
    }
    put(node, "rmsErrorStops", report.rmsErrorStops());
    put(node, "largestErrorStops", report.largestErrorStops());
    node.put("sigmaStops", Scalars.tidy(report.sigmaStops().value()));
    node.put("largestStops", Scalars.tidy(report.largestStops().value()));
    node.put("evenedSigmaStops", Scalars.tidy(report.evenedSigmaStops().value()));
    node.put("evenedLargestStops", Scalars.tidy(report.evenedLargestStops().value()));
    node.put("settingChanges", report.settingChanges());
    node.put("framesLost", report.framesLost());
    node.put("placesSkipped", report.placesSkipped());
    node.put("elapsedSeconds", report.elapsedSeconds());
  }

  static Event.LapseReport report(JsonNode node, ObjectMapper mapper)
      throws JsonProcessingException {
    List<Event.LapseLine> frames = new ArrayList<>();
    for (JsonNode frame : node.path("frames")) {
      frames.add(
          new Event.LapseLine(
              Nodes.integer(frame, "index"),
              Nodes.number(frame, "seconds"),
              Nodes.optionalText(frame, "file"),
              new Exposure(
                  Shutter.ofNominal(Nodes.number(frame, "shutterSeconds")),
                  Aperture.ofNominal(Nodes.number(frame, "aperture")),
                  Iso.ofNominal(Nodes.number(frame, "iso"))),
              new Stops(Nodes.number(frame, "wishStops")),
              stops(frame, "errorStops"),
              stops(frame, "gainStops")));
    }
    return new Event.LapseReport(
        Nodes.text(node, "kind"),
        mapper.treeToValue(node.get("stopped"), Stopped.class),
        Nodes.text(node, "why"),
        Nodes.number(node, "intervalSeconds"),
        frames,
        stops(node, "rmsErrorStops"),
        stops(node, "largestErrorStops"),
        new Stops(Nodes.number(node, "sigmaStops")),
        new Stops(Nodes.number(node, "largestStops")),
        new Stops(Nodes.number(node, "evenedSigmaStops")),
        new Stops(Nodes.number(node, "evenedLargestStops")),
        Nodes.integer(node, "settingChanges"),
        Nodes.integer(node, "framesLost"),
        Nodes.integer(node, "placesSkipped"),
        Nodes.number(node, "elapsedSeconds"));
  }

  private static void put(ObjectNode node, String field, Optional<Stops> stops) {
    stops.ifPresent(it -> node.put(field, Scalars.tidy(it.value())));
  }

  private static Optional<Stops> stops(JsonNode node, String field) {
    return Nodes.optionalNumber(node, field).map(Stops::new);
  }
}

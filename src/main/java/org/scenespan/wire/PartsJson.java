package org.scenespan.wire;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Duration;
import java.util.Optional;
import org.scenespan.frame.NoiseModel;
import org.scenespan.light.Aperture;
import org.scenespan.light.CameraRange;
import org.scenespan.light.Ev;
import org.scenespan.light.Iso;
import org.scenespan.light.PictureLimits;
import org.scenespan.light.Shutter;
import org.scenespan.light.ShutterLadder;
import org.scenespan.light.Stops;
import org.scenespan.plan.hand.Hand;
import org.scenespan.session.Gear;
import org.scenespan.session.Patience;

/** The parts of a setup that sessions of several kinds have, as JSON and back. */
final class PartsJson {
  private PartsJson() {}

  static void write(ObjectNode node, Gear gear) {
    node.put("source", gear.source());
    node.put("trigger", gear.trigger());
    node.put("port", gear.port());
    node.put("folder", gear.folder());
    node.put("raw", gear.raw());
    if (gear.jpegFirst()) {
      node.put("jpegFirst", true);
    }
    gear.own().ifPresent(own -> node.put("framesPerRelease", own.framesPerRelease()));
    gear.hand()
        .ifPresent(
            hand -> {
              ObjectNode dials = node.putObject("byHand");
              dials.put("mode", hand.mode().label());
              dials.put("clicksAStop", hand.clicksAStop());
              dials.put("compensationStops", hand.compensation().value());
            });
    if (gear.rehearsal().isPresent()) {
      Gear.Rehearsal rehearsal = gear.rehearsal().get();
      ObjectNode parts = node.putObject("rehearsal");
      parts.put("scene", rehearsal.scene());
      parts.put("sceneEv", rehearsal.sceneEv().value());
      parts.put("seed", rehearsal.seed());
      if (rehearsal.toneMapped()) {
        parts.put("toneMapped", true);
      }
      if (rehearsal.drift().value() != 0) {
        parts.put("driftStopsPerMinute", rehearsal.drift().value());
      }
      rehearsal.light().ifPresent(light -> LapseJson.write(parts.putObject("light"), light));
    }
  }

  static Gear gear(JsonNode node) {
    Optional<Gear.Rehearsal> rehearsal = Optional.empty();
    if (node.hasNonNull("rehearsal")) {
      JsonNode parts = Nodes.object(node, "rehearsal");
      rehearsal =
          Optional.of(
              new Gear.Rehearsal(
                  Nodes.text(parts, "scene"),
                  new Ev(Nodes.number(parts, "sceneEv")),
                  parts.path("seed").asLong(),
                  parts.path("toneMapped").asBoolean(),
                  new Stops(parts.path("driftStopsPerMinute").asDouble()),
                  parts.hasNonNull("light")
                      ? Optional.of(LapseJson.light(Nodes.object(parts, "light")))
                      : Optional.empty()));
    }
    return new Gear(
        Nodes.text(node, "trigger"),
        Nodes.text(node, "port"),
        Nodes.text(node, "folder"),
        node.path("raw").asBoolean(),
        node.path("jpegFirst").asBoolean(),
        node.hasNonNull("framesPerRelease")
            ? Optional.of(new Gear.Own(Nodes.integer(node, "framesPerRelease")))
            : Optional.empty(),
        node.hasNonNull("byHand") ? Optional.of(hand(node.get("byHand"))) : Optional.empty(),
        rehearsal);
  }

  private static Hand hand(JsonNode node) {
    return new Hand(
        Hand.Mode.of(Nodes.text(node, "mode")),
        Nodes.integer(node, "clicksAStop"),
        new Stops(Nodes.number(node, "compensationStops")));
  }

  static void write(ObjectNode node, CameraRange camera) {
    node.put("shortestSeconds", camera.shutters().shortest().seconds());
    node.put("longestSeconds", camera.shutters().longest().seconds());
    node.put("stepSeconds", camera.shutters().stepSeconds());
    node.put("lowestIso", camera.lowestIso().nominalSpeed());
    node.put("highestIso", camera.highestIso().nominalSpeed());
    node.put("widestAperture", camera.widest().nominalNumber());
    node.put("smallestAperture", camera.smallest().nominalNumber());
  }

  static CameraRange camera(JsonNode node) {
    return new CameraRange(
        new ShutterLadder(
            new Shutter(Nodes.number(node, "shortestSeconds")),
            new Shutter(Nodes.number(node, "longestSeconds")),
            Nodes.number(node, "stepSeconds")),
        Iso.ofNominal(Nodes.number(node, "lowestIso")),
        Iso.ofNominal(Nodes.number(node, "highestIso")),
        Aperture.ofNominal(Nodes.number(node, "widestAperture")),
        Aperture.ofNominal(Nodes.number(node, "smallestAperture")));
  }

  static void write(ObjectNode node, PictureLimits picture) {
    node.put("aperture", picture.aperture().nominalNumber());
    picture.shortest().ifPresent(it -> node.put("shortestSeconds", it.seconds()));
    picture.longest().ifPresent(it -> node.put("longestSeconds", it.seconds()));
    picture.highestIso().ifPresent(it -> node.put("highestIso", it.nominalSpeed()));
  }

  static PictureLimits picture(JsonNode node) {
    return new PictureLimits(
        Aperture.ofNominal(Nodes.number(node, "aperture")),
        Nodes.optionalNumber(node, "shortestSeconds").map(Shutter::new),
        Nodes.optionalNumber(node, "longestSeconds").map(Shutter::new),
        Nodes.optionalNumber(node, "highestIso").map(Iso::ofNominal));
  }

  static void write(ObjectNode node, NoiseModel noise) {
    node.put("fullWellElectrons", noise.fullWell());
    node.put("readNoiseElectrons", noise.readNoise());
    node.put("bits", noise.bits());
    node.put("baseIso", noise.baseIso().nominalSpeed());
  }

  static NoiseModel noise(JsonNode node) {
    return new NoiseModel(
        Nodes.number(node, "fullWellElectrons"),
        Nodes.number(node, "readNoiseElectrons"),
        Nodes.integer(node, "bits"),
        Iso.ofNominal(Nodes.number(node, "baseIso")));
  }

  static void write(ObjectNode node, Patience patience) {
    node.put("answerSeconds", seconds(patience.answer()));
    node.put("frameSeconds", seconds(patience.frame()));
    node.put("outageSeconds", seconds(patience.outage()));
    node.put("retakes", patience.retakes());
  }

  static Patience patience(JsonNode node) {
    return new Patience(
        duration(Nodes.number(node, "answerSeconds")),
        duration(Nodes.number(node, "frameSeconds")),
        duration(Nodes.number(node, "outageSeconds")),
        Nodes.integer(node, "retakes"));
  }

  private static double seconds(Duration time) {
    return time.toMillis() / 1000.0;
  }

  private static Duration duration(double seconds) {
    return Duration.ofMillis(Math.round(seconds * 1000));
  }
}

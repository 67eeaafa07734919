package org.scenespan.wire;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Duration;
import java.util.Optional;
import org.scenespan.frame.NoiseModel;
import org.scenespan.light.Aperture;
import org.scenespan.light.CameraRange;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Latitude;
import org.scenespan.light.PictureLimits;
import org.scenespan.light.Share;
import org.scenespan.light.Shutter;
import org.scenespan.light.ShutterLadder;
import org.scenespan.light.Stops;
import org.scenespan.plan.BracketGoal;
import org.scenespan.session.BracketSetup;
import org.scenespan.session.Gear;

/** A bracket's setup as the fields of its {@code session-opened} record. */
final class SetupJson {
  private SetupJson() {}

  static void write(ObjectNode node, BracketSetup setup, ObjectMapper mapper) {
    node.put("session", setup.session());
    node.put("program", setup.program());
    Gear gear = setup.gear();
    node.put("source", gear.source());
    node.put("trigger", gear.trigger());
    node.put("port", gear.port());
    node.put("folder", gear.folder());
    node.put("raw", gear.raw());
    if (gear.rehearsal().isPresent()) {
      Gear.Rehearsal rehearsal = gear.rehearsal().get();
      ObjectNode rehearsalNode = node.putObject("rehearsal");
      rehearsalNode.put("scene", rehearsal.scene());
      rehearsalNode.put("sceneEv", rehearsal.sceneEv().value());
      rehearsalNode.put("seed", rehearsal.seed());
    }
    BracketGoal goal = setup.goal();
    ObjectNode goalNode = node.putObject("goal");
    goalNode.put("snr", goal.snr());
    goalNode.put("clipTolerance", goal.clipTolerance().value());
    goalNode.put("shadowTolerance", goal.shadowTolerance().value());
    goalNode.put("overlapStops", goal.overlap().value());
    goalNode.put("maxFrames", goal.maxFrames());
    WishesJson.write(node, setup);
    CameraRange camera = setup.camera();
    ObjectNode cameraNode = node.putObject("camera");
    cameraNode.put("shortestSeconds", camera.shutters().shortest().seconds());
    cameraNode.put("longestSeconds", camera.shutters().longest().seconds());
    cameraNode.put("stepSeconds", camera.shutters().stepSeconds());
    cameraNode.put("lowestIso", camera.lowestIso().nominalSpeed());
    cameraNode.put("highestIso", camera.highestIso().nominalSpeed());
    cameraNode.put("widestAperture", camera.widest().nominalNumber());
    cameraNode.put("smallestAperture", camera.smallest().nominalNumber());
    PictureLimits picture = setup.picture();
    ObjectNode pictureNode = node.putObject("picture");
    pictureNode.put("aperture", picture.aperture().nominalNumber());
    picture.shortest().ifPresent(it -> pictureNode.put("shortestSeconds", it.seconds()));
    picture.longest().ifPresent(it -> pictureNode.put("longestSeconds", it.seconds()));
    picture.highestIso().ifPresent(it -> pictureNode.put("highestIso", it.nominalSpeed()));
    limits(node.putObject("limits"), setup.latitude());
    ObjectNode noise = node.putObject("noise");
    noise.put("fullWellElectrons", setup.noise().fullWell());
    noise.put("readNoiseElectrons", setup.noise().readNoise());
    noise.put("bits", setup.noise().bits());
    noise.put("baseIso", setup.noise().baseIso().nominalSpeed());
    setup.start().ifPresent(start -> node.set("start", mapper.valueToTree(start)));
    BracketSetup.Patience patience = setup.patience();
    ObjectNode patienceNode = node.putObject("patience");
    patienceNode.put("answerSeconds", seconds(patience.answer()));
    patienceNode.put("frameSeconds", seconds(patience.frame()));
    patienceNode.put("outageSeconds", seconds(patience.outage()));
    patienceNode.put("retakes", patience.retakes());
  }

  /** What camera and picture leave together: derived, for readers. */
  private static void limits(ObjectNode node, Latitude latitude) {
    Exposure darkest = latitude.darkest();
    Exposure brightest = latitude.brightest();
    node.put("aperture", darkest.aperture().nominalNumber());
    node.put("shortestSeconds", Scalars.seconds(darkest.shutter()));
    node.put("longestSeconds", Scalars.seconds(brightest.shutter()));
    node.put("lowestIso", darkest.iso().nominalSpeed());
    node.put("highestIso", brightest.iso().nominalSpeed());
    node.put("darkestEv", Scalars.tidy(darkest.ev().value()));
    node.put("brightestEv", Scalars.tidy(brightest.ev().value()));
  }

  static BracketSetup read(JsonNode node, ObjectMapper mapper) {
    JsonNode goal = Nodes.object(node, "goal");
    JsonNode camera = Nodes.object(node, "camera");
    JsonNode picture = Nodes.object(node, "picture");
    JsonNode noise = Nodes.object(node, "noise");
    JsonNode patience = Nodes.object(node, "patience");
    Optional<Exposure> start =
        node.hasNonNull("start")
            ? Optional.of(mapper.convertValue(node.get("start"), Exposure.class))
            : Optional.empty();
    return new BracketSetup(
        Nodes.text(node, "session"),
        Nodes.text(node, "program"),
        gear(node),
        new BracketGoal(
            Nodes.number(goal, "snr"),
            new Share(Nodes.number(goal, "clipTolerance")),
            new Share(Nodes.number(goal, "shadowTolerance")),
            new Stops(Nodes.number(goal, "overlapStops")),
            Nodes.integer(goal, "maxFrames"),
            WishesJson.intent(goal)),
        new CameraRange(
            new ShutterLadder(
                new Shutter(Nodes.number(camera, "shortestSeconds")),
                new Shutter(Nodes.number(camera, "longestSeconds")),
                Nodes.number(camera, "stepSeconds")),
            Iso.ofNominal(Nodes.number(camera, "lowestIso")),
            Iso.ofNominal(Nodes.number(camera, "highestIso")),
            Aperture.ofNominal(Nodes.number(camera, "widestAperture")),
            Aperture.ofNominal(Nodes.number(camera, "smallestAperture"))),
        new PictureLimits(
            Aperture.ofNominal(Nodes.number(picture, "aperture")),
            Nodes.optionalNumber(picture, "shortestSeconds").map(Shutter::new),
            Nodes.optionalNumber(picture, "longestSeconds").map(Shutter::new),
            Nodes.optionalNumber(picture, "highestIso").map(Iso::ofNominal)),
        new NoiseModel(
            Nodes.number(noise, "fullWellElectrons"),
            Nodes.number(noise, "readNoiseElectrons"),
            Nodes.integer(noise, "bits"),
            Iso.ofNominal(Nodes.number(noise, "baseIso"))),
        start,
        WishesJson.known(node),
        new BracketSetup.Patience(
            duration(Nodes.number(patience, "answerSeconds")),
            duration(Nodes.number(patience, "frameSeconds")),
            duration(Nodes.number(patience, "outageSeconds")),
            Nodes.integer(patience, "retakes")));
  }

  private static Gear gear(JsonNode node) {
    Optional<Gear.Rehearsal> rehearsal = Optional.empty();
    if (node.hasNonNull("rehearsal")) {
      JsonNode parts = Nodes.object(node, "rehearsal");
      rehearsal =
          Optional.of(
              new Gear.Rehearsal(
                  Nodes.text(parts, "scene"),
                  new Ev(Nodes.number(parts, "sceneEv")),
                  parts.path("seed").asLong()));
    }
    return new Gear(
        Nodes.text(node, "trigger"),
        Nodes.text(node, "port"),
        Nodes.text(node, "folder"),
        node.path("raw").asBoolean(),
        rehearsal);
  }

  private static double seconds(Duration time) {
    return time.toMillis() / 1000.0;
  }

  private static Duration duration(double seconds) {
    return Duration.ofMillis(Math.round(seconds * 1000));
  }
}

package org.scenespan.wire;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.Optional;
import org.scenespan.light.Exposure;
import org.scenespan.light.Latitude;
import org.scenespan.light.Share;
import org.scenespan.light.Stops;
import org.scenespan.plan.BracketGoal;
import org.scenespan.plan.JpegMargin;
import org.scenespan.session.BracketSetup;

/** What only a bracket's setup has, as fields of its {@code session-opened} record. */
final class BracketSetupJson {
  private BracketSetupJson() {}

  static void write(ObjectNode node, BracketSetup setup, ObjectMapper mapper) {
    BracketGoal goal = setup.goal();
    ObjectNode goalNode = node.putObject("goal");
    goalNode.put("snr", goal.snr());
    goalNode.put("clipTolerance", goal.clipTolerance().value());
    goalNode.put("shadowTolerance", goal.shadowTolerance().value());
    goalNode.put("overlapStops", goal.overlap().value());
    goalNode.put("maxFrames", goal.maxFrames());
    WishesJson.write(node, setup);
    PartsJson.write(node.putObject("camera"), setup.camera());
    PartsJson.write(node.putObject("picture"), setup.picture());
    limits(node.putObject("limits"), setup.latitude());
    PartsJson.write(node.putObject("noise"), setup.noise());
    setup
        .margin()
        .ifPresent(
            margin -> {
              ObjectNode jpeg = node.putObject("jpegMargin");
              jpeg.put("stops", margin.stops().value());
              jpeg.put("why", margin.why());
            });
    setup.start().ifPresent(start -> node.set("start", mapper.valueToTree(start)));
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
    Optional<Exposure> start =
        node.hasNonNull("start")
            ? Optional.of(mapper.convertValue(node.get("start"), Exposure.class))
            : Optional.empty();
    return new BracketSetup(
        Nodes.text(node, "session"),
        Nodes.text(node, "program"),
        PartsJson.gear(node),
        new BracketGoal(
            Nodes.number(goal, "snr"),
            new Share(Nodes.number(goal, "clipTolerance")),
            new Share(Nodes.number(goal, "shadowTolerance")),
            new Stops(Nodes.number(goal, "overlapStops")),
            Nodes.integer(goal, "maxFrames"),
            WishesJson.intent(goal)),
        PartsJson.camera(Nodes.object(node, "camera")),
        PartsJson.picture(Nodes.object(node, "picture")),
        PartsJson.noise(Nodes.object(node, "noise")),
        start,
        WishesJson.known(node),
        PartsJson.patience(Nodes.object(node, "patience")),
        margin(node));
  }

  private static Optional<JpegMargin> margin(JsonNode node) {
    return node.hasNonNull("jpegMargin")
        ? Optional.of(
            new JpegMargin(
                new Stops(Nodes.number(node.get("jpegMargin"), "stops")),
                Nodes.text(node.get("jpegMargin"), "why")))
        : Optional.empty();
  }
}

package org.scenespan.wire;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.scenespan.frame.CameraLag;
import org.scenespan.frame.MeasuredNoise;
import org.scenespan.frame.MeasuredShutters;
import org.scenespan.frame.ShutterError;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;
import org.scenespan.light.Stops;

/** The parts of a camera profile that its raw files and its sessions tell; each may be missing. */
final class SensorJson {
  private static final String PAIRS = "equal-pairs";
  private static final String BRACKET = "bracket";

  private SensorJson() {}

  static void writeNoise(ObjectNode root, List<MeasuredNoise> all) {
    if (all.isEmpty()) {
      return;
    }
    ArrayNode array = root.putArray("noise");
    for (MeasuredNoise noise : all) {
      array
          .addObject()
          .put("iso", noise.iso().nominalSpeed())
          .put("saturationElectrons", rounded(noise.saturation()))
          .put("saturationError", rounded(noise.saturationError()))
          .put("readNoiseElectrons", rounded(noise.readNoise()))
          .put("readNoiseError", rounded(noise.readNoiseError()))
          .put("bits", noise.bits())
          .put("frames", noise.frames())
          .put("samples", noise.samples())
          .put("method", noise.equalPairs() ? PAIRS : BRACKET);
    }
  }

  static List<MeasuredNoise> noise(JsonNode root) {
    List<MeasuredNoise> all = new ArrayList<>();
    for (JsonNode node : array(root, "noise")) {
      String method = Nodes.text(node, "method");
      if (!method.equals(PAIRS) && !method.equals(BRACKET)) {
        throw new IllegalArgumentException(
            "field noise.method must be " + PAIRS + " or " + BRACKET);
      }
      all.add(
          new MeasuredNoise(
              Iso.ofNominal(Nodes.number(node, "iso")),
              Nodes.number(node, "saturationElectrons"),
              Nodes.number(node, "saturationError"),
              Nodes.number(node, "readNoiseElectrons"),
              Nodes.number(node, "readNoiseError"),
              Nodes.integer(node, "bits"),
              Nodes.integer(node, "frames"),
              Nodes.integer(node, "samples"),
              method.equals(PAIRS)));
    }
    return all;
  }

  static void writeShutters(ObjectNode root, MeasuredShutters times) {
    ObjectNode node = root.putObject("shutters");
    node.put("referenceSeconds", times.reference().nominalSeconds());
    ArrayNode array = node.putArray("errors");
    for (ShutterError error : times.errors()) {
      array
          .addObject()
          .put("seconds", error.shutter().nominalSeconds())
          .put("errorStops", rounded(error.error().value()))
          .put("standardError", rounded(error.standardError()))
          .put("frames", error.frames());
    }
  }

  static Optional<MeasuredShutters> shutters(JsonNode root) {
    if (!root.hasNonNull("shutters")) {
      return Optional.empty();
    }
    JsonNode node = Nodes.object(root, "shutters");
    List<ShutterError> errors = new ArrayList<>();
    for (JsonNode each : array(node, "errors")) {
      errors.add(
          new ShutterError(
              Shutter.ofNominal(Nodes.number(each, "seconds")),
              new Stops(Nodes.number(each, "errorStops")),
              Nodes.number(each, "standardError"),
              Nodes.integer(each, "frames")));
    }
    return Optional.of(
        new MeasuredShutters(Shutter.ofNominal(Nodes.number(node, "referenceSeconds")), errors));
  }

  static void writeLag(ObjectNode root, CameraLag lag) {
    ObjectNode node = root.putObject("lag");
    node.put("frames", lag.frames());
    node.put("fileSeconds", rounded(lag.file()));
    node.put("slowestFileSeconds", rounded(lag.slowest()));
    lag.captureSpread().ifPresent(spread -> node.put("captureSpreadSeconds", rounded(spread)));
  }

  static Optional<CameraLag> lag(JsonNode root) {
    if (!root.hasNonNull("lag")) {
      return Optional.empty();
    }
    JsonNode node = Nodes.object(root, "lag");
    return Optional.of(
        new CameraLag(
            Nodes.integer(node, "frames"),
            Nodes.number(node, "fileSeconds"),
            Nodes.number(node, "slowestFileSeconds"),
            Nodes.optionalNumber(node, "captureSpreadSeconds")));
  }

  private static JsonNode array(JsonNode parent, String field) {
    JsonNode node = parent.path(field);
    if (!node.isArray() && !node.isMissingNode()) {
      throw new IllegalArgumentException("field " + field + " must be a list");
    }
    return node;
  }

  private static double rounded(double value) {
    return Math.rint(value * 1e4) / 1e4;
  }
}

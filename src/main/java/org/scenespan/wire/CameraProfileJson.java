package org.scenespan.wire;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.StreamReadFeature;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.scenespan.frame.CameraProfile;
import org.scenespan.frame.ToneResponse;

/** A camera profile as JSON. */
public final class CameraProfileJson {
  private static final String FORMAT = "scenespan camera profile";
  private static final int VERSION = 1;
  private static final List<String> COLOURS = List.of("red", "green", "blue");

  private static final JsonMapper JSON =
      JsonMapper.builder()
          .enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION)
          .enable(DeserializationFeature.FAIL_ON_TRAILING_TOKENS)
          .build();

  private CameraProfileJson() {}

  public static String write(CameraProfile profile) {
    ObjectNode root = JSON.createObjectNode();
    root.put("format", FORMAT);
    root.put("version", VERSION);
    root.put("camera", profile.camera());
    root.put("frames", profile.frames());
    root.put("spanStops", rounded(profile.spanStops()));
    profile
        .leastHeadroom()
        .ifPresent(headroom -> root.put("headroomStops", rounded(headroom.stops())));
    ObjectNode quality = JSON.createObjectNode();
    ObjectNode responses = JSON.createObjectNode();
    for (int i = 0; i < profile.channels().size(); i++) {
      CameraProfile.Channel channel = profile.channels().get(i);
      quality.set(COLOURS.get(i), quality(channel));
      ArrayNode light = responses.putArray(COLOURS.get(i));
      for (int code = 0; code < channel.response().codes(); code++) {
        light.add((double) (float) channel.response().linear(code));
      }
    }
    SensorJson.writeNoise(root, profile.noise());
    profile.shutters().ifPresent(times -> SensorJson.writeShutters(root, times));
    profile.lag().ifPresent(lag -> SensorJson.writeLag(root, lag));
    if (profile.hasResponse()) {
      root.set("quality", quality);
      root.set("response", responses);
    }
    return root.toPrettyString() + "\n";
  }

  private static ObjectNode quality(CameraProfile.Channel channel) {
    ObjectNode node = JSON.createObjectNode();
    node.put("samples", channel.samples());
    node.put("residualStops", rounded(channel.residualStops()));
    node.put("lowestCode", channel.lowestCode());
    node.put("highestCode", channel.highestCode());
    channel
        .headroom()
        .ifPresent(
            headroom ->
                node.putObject("headroom")
                    .put("stops", rounded(headroom.stops()))
                    .put("spreadStops", rounded(headroom.spreadStops()))
                    .put("samples", headroom.samples()));
    return node;
  }

  private static double rounded(double value) {
    return Math.rint(value * 1e4) / 1e4;
  }

  /**
   * @throws IllegalArgumentException in one line that names the field, if the text is no camera
   *     profile
   */
  public static CameraProfile read(String text) {
    try {
      JsonNode root = JSON.readTree(text);
      if (!FORMAT.equals(root.path("format").asText())) {
        throw new IllegalArgumentException("field format must be \"" + FORMAT + "\"");
      }
      int version = Nodes.integer(root, "version");
      if (version != VERSION) {
        throw new IllegalArgumentException(
            "field version is " + version + "; this program reads " + VERSION);
      }
      List<CameraProfile.Channel> channels = new ArrayList<>();
      boolean responds = root.hasNonNull("response") || Nodes.integer(root, "frames") > 0;
      for (String colour : responds ? COLOURS : List.<String>of()) {
        channels.add(channel(root, colour));
      }
      return new CameraProfile(
          Nodes.text(root, "camera"),
          Nodes.integer(root, "frames"),
          Nodes.number(root, "spanStops"),
          channels,
          SensorJson.noise(root),
          SensorJson.shutters(root),
          SensorJson.lag(root));
    } catch (JsonProcessingException e) {
      throw new IllegalArgumentException("is not JSON: " + e.getOriginalMessage(), e);
    }
  }

  private static CameraProfile.Channel channel(JsonNode root, String colour) {
    JsonNode quality = Nodes.object(Nodes.object(root, "quality"), colour);
    JsonNode light = Nodes.object(root, "response").path(colour);
    if (!light.isArray() || light.size() != 256) {
      throw new IllegalArgumentException("field response." + colour + " must be 256 numbers");
    }
    double[] linear = new double[light.size()];
    for (int code = 0; code < linear.length; code++) {
      linear[code] = light.get(code).isNumber() ? light.get(code).doubleValue() : Double.NaN;
    }
    Optional<CameraProfile.Headroom> headroom = Optional.empty();
    if (quality.hasNonNull("headroom")) {
      JsonNode node = Nodes.object(quality, "headroom");
      headroom =
          Optional.of(
              new CameraProfile.Headroom(
                  Nodes.number(node, "stops"),
                  Nodes.number(node, "spreadStops"),
                  Nodes.integer(node, "samples")));
    }
    try {
      return new CameraProfile.Channel(
          ToneResponse.measured(linear),
          Nodes.number(quality, "residualStops"),
          Nodes.integer(quality, "samples"),
          Nodes.integer(quality, "lowestCode"),
          Nodes.integer(quality, "highestCode"),
          headroom);
    } catch (IllegalArgumentException e) {
      throw new IllegalArgumentException("channel " + colour + ": " + e.getMessage(), e);
    }
  }
}

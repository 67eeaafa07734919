package org.scenespan.proof;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.scenespan.light.Share;

/**
 * What a proof shows.
 *
 * @param folder where its files are
 * @param merged names of the frames that were merged
 * @param skipped frames that were not, each with the reason
 * @param width pixels, upright
 * @param height pixels, upright
 * @param snr that was asked for
 * @param clipped pixels of which a channel is clipped in every frame
 * @param belowSnr pixels whose luminance stays below the asked signal-to-noise
 * @param moved pixels that differ between frames by more than noise allows
 * @param reached share of the pixels in each class of signal-to-noise, by its words
 * @param unitCandela luminance of a pixel value of 1, cd/m², within a third of a stop
 * @param fusedFactor by how much each side of the fused picture is reduced; 1 for not
 * @param linear how the frames' light was made linear, in words
 */
public record ProofResult(
    Path folder,
    List<String> merged,
    List<String> skipped,
    int width,
    int height,
    double snr,
    Share clipped,
    Share belowSnr,
    Share moved,
    Map<String, Double> reached,
    double unitCandela,
    int fusedFactor,
    String linear) {
  static final String FORMAT = "scenespan proof";

  public ProofResult {
    merged = List.copyOf(merged);
    skipped = List.copyOf(skipped);
  }

  /** All but the folder, as one JSON object. */
  public ObjectNode json() {
    ObjectNode root = new ObjectMapper().createObjectNode();
    root.put("format", FORMAT);
    root.put("version", 1);
    root.put("width", width);
    root.put("height", height);
    merged.forEach(root.putArray("merged")::add);
    skipped.forEach(root.putArray("skipped")::add);
    root.put("linear", linear);
    root.put("snr", snr);
    root.put("clippedFraction", clipped.value());
    root.put("belowSnrFraction", belowSnr.value());
    root.put("movedFraction", moved.value());
    ObjectNode classes = root.putObject("snrFractions");
    reached.forEach(classes::put);
    root.put("unitCandela", unitCandela);
    root.put("fusedFactor", fusedFactor);
    return root;
  }

  /** The same with the digests of its files: the list that lets them be replaced. */
  String list(Map<String, String> digests) {
    ObjectNode root = json();
    ObjectNode files = root.putObject("sha256");
    new TreeMap<>(digests).forEach(files::put);
    return root.toPrettyString() + "\n";
  }
}

package org.scenespan.cli;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.scenespan.control.Proofs;
import org.scenespan.frame.CameraProfile;
import org.scenespan.proof.LapseProof;
import org.scenespan.proof.ProofResult;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Merges a bracket to check it in the field. */
@Command(
    name = "proof",
    mixinStandardHelpOptions = true,
    description =
        "Merge a bracket to check it in the field: radiance (.hdr and .tif), a fused picture for"
            + " the eye (.jpg), and maps of the signal-to-noise that the set reaches and of what is"
            + " clipped, too dark or moved (.png). Of a lapse: a small evened film (.mp4) and a"
            + " plot of its brightness (.svg). The frames are only read; nothing is written into"
            + " the hot folder.",
    footerHeading = "%nExample:%n",
    footer = "  scenespan proof 20260504-051231-ridge")
final class ProofCommand implements Callable<Integer> {
  @Spec private CommandSpec spec;
  @Mixin private Places places;

  @Parameters(paramLabel = "SESSION", description = "The session's name.")
  private String session;

  @Option(
      names = "--out",
      paramLabel = "DIR",
      description = "Where the proof goes. Default: a folder in the session's own directory.")
  private Path out;

  @Option(
      names = "--camera",
      paramLabel = "PROFILE",
      description =
          "The camera's own response, from scenespan calibrate: a profile's name, or a .json file."
              + " Default: JPEGs are taken as plain sRGB, which is a guess.")
  private String camera;

  @Option(names = "--json", description = "Write one JSON object.")
  private boolean json;

  @Option(
      names = "--rate",
      paramLabel = "N",
      defaultValue = "25",
      description = "Of a lapse: frames a second of the film, 1 to 120 (${DEFAULT-VALUE}).")
  private int rate;

  @Override
  public Integer call() throws IOException {
    return Proofs.isLapse(places.sessions(), session) ? film() : merge();
  }

  private int film() throws IOException {
    LapseProof.Result result;
    try (ProgressLine progress = ProgressLine.on(spec.commandLine().getErr())) {
      result = Proofs.film(places.sessions(), session, Optional.ofNullable(out), rate, progress);
    }
    PrintWriter told = spec.commandLine().getOut();
    if (json) {
      ObjectNode node = JsonNodeFactory.instance.objectNode();
      node.put("kind", "lapse");
      node.put("frames", result.frames());
      result.skipped().forEach(node.putArray("skipped")::add);
      node.put("folder", result.folder().toString());
      told.println(node);
    } else {
      told.printf(
          Locale.ROOT,
          "A film of %d frames at %d a second, evened, and a plot of the brightness.%n",
          result.frames(),
          rate);
      told.println("Written to " + result.folder());
    }
    told.flush();
    for (String skipped : result.skipped()) {
      spec.commandLine().getErr().println("scenespan: " + skipped);
    }
    spec.commandLine().getErr().flush();
    return result.skipped().isEmpty() ? ExitCode.DONE : ExitCode.WRONG_USE;
  }

  private int merge() throws IOException {
    Optional<CameraProfile> profile =
        Optional.ofNullable(camera).map(places.cameraProfiles()::load);
    PrintWriter out = spec.commandLine().getOut();
    ProofResult result;
    try (ProgressLine progress = ProgressLine.on(spec.commandLine().getErr())) {
      result =
          Proofs.make(places.sessions(), session, Optional.ofNullable(this.out), profile, progress);
    }
    if (json) {
      out.println(result.json().put("folder", result.folder().toString()));
    } else {
      tell(out, result);
    }
    out.flush();
    return result.skipped().isEmpty() ? ExitCode.DONE : ExitCode.WRONG_USE;
  }

  private void tell(PrintWriter out, ProofResult result) {
    out.printf(
        Locale.ROOT,
        "Merged %d frames of %d x %d pixels (%s).%n",
        result.merged().size(),
        result.width(),
        result.height(),
        result.linear());
    for (String skipped : result.skipped()) {
      spec.commandLine().getErr().println("scenespan: " + skipped);
    }
    spec.commandLine().getErr().flush();
    out.printf(
        "Clipped in every frame: %s. Below signal-to-noise %.0f: %s. Moved: %s.%n",
        Telling.percent(result.clipped()),
        result.snr(),
        Telling.percent(result.belowSnr()),
        Telling.percent(result.moved()));
    if (result.fusedFactor() > 1) {
      out.printf("The fused picture is reduced to 1/%d of each side.%n", result.fusedFactor());
    }
    out.println("Written to " + result.folder());
  }
}

package org.scenespan.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.Callable;
import org.scenespan.control.CameraProfiles;
import org.scenespan.control.Proofs;
import org.scenespan.frame.CameraProfile;
import org.scenespan.frame.ToneResponse;
import org.scenespan.wire.CameraProfileJson;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Learns a camera's tone response and headroom. */
@Command(
    name = "calibrate",
    mixinStandardHelpOptions = true,
    description = {
      "Learn a camera's tone response from a bracket of a still scene: JPEGs with Exif that differ"
          + " in shutter only, and for the headroom the raw file (DNG) beside one or more of them.",
      "",
      "Use a tripod, manual settings and light that does not change, and frame plain surfaces from"
          + " dark to bright. Five to nine frames, a stop or two apart, serve best."
    },
    footerHeading = "%nExample:%n",
    footer = "  scenespan calibrate bracket/*.JPG bracket/*.DNG")
final class CalibrateCommand implements Callable<Integer> {
  private static final String[] COLOURS = {"Red", "Green", "Blue"};

  /** The sRGB code of an 18 % grey (IEC 61966-2-1: 0.461 of 255). */
  private static final int GREY_CODE = 118;

  @Spec private CommandSpec spec;
  @Mixin private Places places;

  @Parameters(paramLabel = "FILE", arity = "2..*", description = "JPEG and DNG files.")
  private List<Path> files;

  @Option(
      names = "--out",
      paramLabel = "FILE",
      description = "Where the profile goes. Default: your directory of camera profiles.")
  private Path out;

  @Option(names = "--json", description = "Write the profile on standard output, too.")
  private boolean json;

  @Override
  public Integer call() throws IOException {
    CameraProfile profile;
    try (ProgressLine progress = ProgressLine.on(spec.commandLine().getErr())) {
      profile = Proofs.calibrate(files, progress);
    }
    Path file = out != null ? out : places.cameraProfiles().fileOf(profile.camera());
    CameraProfiles.save(profile, file);
    PrintWriter told = spec.commandLine().getOut();
    if (json) {
      told.print(CameraProfileJson.write(profile));
    } else {
      tell(told, profile);
      told.println("Written to " + file);
    }
    told.flush();
    return ExitCode.DONE;
  }

  private static void tell(PrintWriter out, CameraProfile profile) {
    out.printf(
        Locale.ROOT,
        "%s: response from %d frames over %.1f stops.%n",
        profile.camera(),
        profile.frames(),
        profile.spanStops());
    double usual = stops(ToneResponse.srgb(8).linear(GREY_CODE));
    for (int i = 0; i < COLOURS.length; i++) {
      CameraProfile.Channel channel = profile.channels().get(i);
      out.printf(
          Locale.ROOT,
          "%s: %d flat places, codes %d to %d covered; they lie within %.3f stop of the curve (root"
              + " mean square). Code %d is %.2f stops below clipping (plain sRGB: %.2f).%n",
          COLOURS[i],
          channel.samples(),
          channel.lowestCode(),
          channel.highestCode(),
          channel.residualStops(),
          GREY_CODE,
          -stops(channel.response().linear(GREY_CODE)),
          -usual);
      channel
          .headroom()
          .ifPresent(
              headroom ->
                  out.printf(
                      Locale.ROOT,
                      "   Raw goes on for %.2f stop above the JPEG's clipping (spread %.2f, %d"
                          + " places).%n",
                      headroom.stops(),
                      headroom.spreadStops(),
                      headroom.samples()));
    }
    if (profile.leastHeadroom().isEmpty()) {
      out.println(
          "Headroom: unknown; give the raw files of bright but unclipped frames beside their"
              + " JPEGs.");
    }
  }

  private static double stops(double light) {
    return Math.log(light) / Math.log(2);
  }
}

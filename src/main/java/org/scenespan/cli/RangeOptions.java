package org.scenespan.cli;

import java.util.function.Function;
import org.scenespan.light.Aperture;
import org.scenespan.light.CameraRange;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;
import org.scenespan.light.ShutterLadder;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** What the camera can set, by word or by a trigger's profile. */
final class RangeOptions {
  @Mixin private Places places;

  @Option(
      names = "--trigger",
      paramLabel = "PROFILE",
      description = "Take what can be set from a trigger's device profile.")
  private String trigger;

  @Option(
      names = "--shutters",
      paramLabel = "FROM..TO",
      defaultValue = "1/8000..30s",
      description = "The camera's shortest and longest shutter (${DEFAULT-VALUE}).")
  private String shutters;

  @Option(
      names = "--apertures",
      paramLabel = "FROM..TO",
      defaultValue = "f/2.8..f/22",
      description = "The lens's widest and smallest aperture (${DEFAULT-VALUE}).")
  private String apertures;

  @Option(
      names = "--isos",
      paramLabel = "FROM..TO",
      defaultValue = "100..12800",
      description = "The camera's lowest and highest ISO (${DEFAULT-VALUE}).")
  private String isos;

  CameraRange range() {
    if (trigger != null) {
      return places.profiles().load(trigger).cameraRange();
    }
    return new CameraRange(
        ShutterLadder.thirds(
            end("--shutters", shutters, 0, Shutter::parse),
            end("--shutters", shutters, 1, Shutter::parse)),
        end("--isos", isos, 0, Iso::parse),
        end("--isos", isos, 1, Iso::parse),
        end("--apertures", apertures, 0, Aperture::parse),
        end("--apertures", apertures, 1, Aperture::parse));
  }

  private static <T> T end(String option, String text, int which, Function<String, T> parser) {
    String[] ends = text.split("\\.\\.", -1);
    if (ends.length != 2) {
      throw new IllegalArgumentException(
          option + " \"" + text + "\" must be two values with two points between");
    }
    return parser.apply(ends[which]);
  }
}

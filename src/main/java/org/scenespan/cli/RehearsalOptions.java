package org.scenespan.cli;

import java.nio.file.Path;
import java.util.Optional;
import org.scenespan.light.Ev;
import org.scenespan.light.Stops;
import org.scenespan.rehearsal.Scene;
import org.scenespan.session.Gear;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** A bracket's simulated scene and camera, instead of real parts. */
final class RehearsalOptions {
  @Option(
      names = "--simulate",
      paramLabel = "SCENE",
      description =
          "Instead of real parts: a bundled scene (ridge, window, flat) or a Radiance .hdr file.")
  private String simulate;

  @Option(
      names = "--scene-ev",
      paramLabel = "EV",
      defaultValue = "12",
      converter = Values.EvValue.class,
      description = "Where a simulated scene's log-average luminance stands (${DEFAULT-VALUE}).")
  private Ev sceneEv;

  @Option(
      names = "--seed",
      paramLabel = "N",
      defaultValue = "1",
      description =
          "A simulated camera's chance; the same seed gives the same frames (${DEFAULT-VALUE}).")
  private long seed;

  @Mixin private RealTimeOption realTime;

  @Option(
      names = "--tone-mapped",
      description =
          "The simulated camera's JPEGs are tone-mapped and clip a stop before its raw files, as"
              + " cameras' do.")
  private boolean toneMapped;

  @Option(
      names = "--drift",
      paramLabel = "STOPS",
      defaultValue = "0",
      converter = Values.StopsValue.class,
      description = "By how much a simulated scene's light grows in a minute (${DEFAULT-VALUE}).")
  private Stops drift;

  boolean wanted() {
    return simulate != null;
  }

  boolean inRealTime() {
    return realTime.wanted();
  }

  Optional<Gear.Rehearsal> rehearsal() {
    if (simulate == null) {
      return Optional.empty();
    }
    // A file is named in full, so that the session can be resumed from anywhere.
    String scene =
        Scene.names().contains(simulate) ? simulate : PartsOptions.absolute(Path.of(simulate));
    return Optional.of(new Gear.Rehearsal(scene, sceneEv, seed, toneMapped, drift));
  }

  /** A short name of the simulated scene, for the session's directory. */
  Optional<String> label() {
    if (simulate == null) {
      return Optional.empty();
    }
    // The root of the disk has no name: it is refused where it is read.
    Path named = Path.of(simulate).getFileName();
    String file = named == null ? "" : named.toString().replaceFirst("\\.[A-Za-z]+$", "");
    String plain = file.replaceAll("[^A-Za-z0-9_.-]", "_");
    return Optional.of(plain.substring(0, Math.min(40, plain.length())));
  }
}

package org.scenespan.cli;

import java.util.Optional;
import org.scenespan.light.Aperture;
import org.scenespan.light.CameraRange;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;
import org.scenespan.light.ShutterLadder;
import org.scenespan.light.Stops;
import org.scenespan.plan.hand.Hand;
import picocli.CommandLine.Option;

/** A camera whose dials are turned by hand. */
final class HandOptions {
  private static final Shutter SHORTEST = Shutter.parse("1/8000");
  private static final Shutter LONGEST = Shutter.parse("30s");
  private static final Iso HIGHEST = Iso.parse("102400");
  private static final Iso USUAL = Iso.parse("100");

  @Option(
      names = "--by-hand",
      description =
          "It says which dial to turn, which way and how many clicks, and the next frame in --folder"
              + " proves it.")
  private boolean wanted;

  @Option(
      names = "--mode",
      paramLabel = "MODE",
      defaultValue = "manual",
      description =
          "By hand: manual, aperture-priority, shutter-priority or automatic-iso"
              + " (${DEFAULT-VALUE}).")
  private String mode;

  @Option(
      names = "--clicks",
      paramLabel = "N",
      defaultValue = "3",
      description = "By hand: clicks of a dial to a stop, 3 or 2 (${DEFAULT-VALUE}).")
  private int clicks;

  @Option(
      names = "--compensation",
      paramLabel = "STOPS",
      defaultValue = "3",
      description =
          "By hand: how far exposure compensation goes either way, 1 to 5 (${DEFAULT-VALUE}).")
  private double compensation;

  boolean wanted() {
    return wanted;
  }

  Hand hand() {
    return new Hand(Hand.Mode.of(mode), clicks, new Stops(compensation));
  }

  /** What dials can be turned to: one ISO, unless a higher one is allowed. */
  static CameraRange range(Optional<Iso> iso) {
    return new CameraRange(
        ShutterLadder.thirds(SHORTEST, LONGEST),
        iso.orElse(USUAL),
        HIGHEST,
        Aperture.ofNominal(1),
        Aperture.ofNominal(32));
  }
}

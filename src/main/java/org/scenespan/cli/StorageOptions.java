package org.scenespan.cli;

import java.util.OptionalDouble;
import picocli.CommandLine.Option;

/** What a card and a battery hold. */
final class StorageOptions {
  @Option(
      names = "--frame-megabytes",
      paramLabel = "MB",
      defaultValue = "30",
      description = "The size of one frame, raw and JPEG together (${DEFAULT-VALUE}).")
  private double frame;

  @Option(
      names = "--card-gigabytes",
      paramLabel = "GB",
      description = "What is free on the card; a warning tells where it is too little.")
  private Double card;

  @Option(
      names = "--frames-per-charge",
      paramLabel = "N",
      defaultValue = "400",
      description = "How many frames a battery lasts in this cold (${DEFAULT-VALUE}).")
  private int charge;

  double megabytesPerFrame() {
    if (!(frame > 0 && frame <= 10_000)) {
      throw new IllegalArgumentException(
          "frame size (" + frame + " MB) must be above 0 and at most 10000 MB");
    }
    return frame;
  }

  OptionalDouble cardGigabytes() {
    if (card != null && !(card > 0)) {
      throw new IllegalArgumentException("card (" + card + " GB) must be above 0");
    }
    return card == null ? OptionalDouble.empty() : OptionalDouble.of(card);
  }

  int framesPerCharge() {
    if (charge < 1) {
      throw new IllegalArgumentException("frames per charge (" + charge + ") must be 1 or more");
    }
    return charge;
  }
}

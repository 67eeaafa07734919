package org.scenespan.cli;

import org.scenespan.light.FocalLength;
import org.scenespan.light.SensorFormat;
import picocli.CommandLine.Option;

/** The lens's focal length and the sensor behind it. */
final class LensOptions {
  @Option(
      names = "--focal",
      paramLabel = "MM",
      converter = Values.FocalLengthValue.class,
      description = "The focal length, such as 24mm.")
  private FocalLength focal;

  @Option(
      names = "--sensor",
      paramLabel = "SIZE",
      defaultValue = "full-frame",
      description =
          "The sensor: medium-format, full-frame, aps-c, four-thirds, one-inch, or millimetres such"
              + " as 36x24 (${DEFAULT-VALUE}).")
  private String sensor;

  @Option(
      names = "--columns",
      paramLabel = "N",
      defaultValue = "6000",
      description = "Pixels along the sensor's long side (${DEFAULT-VALUE}).")
  private int columns;

  FocalLength focal() {
    if (focal == null) {
      throw new IllegalArgumentException("give the focal length with --focal, such as 24mm");
    }
    return focal;
  }

  SensorFormat sensor() {
    return SensorFormat.parse(sensor, columns);
  }
}

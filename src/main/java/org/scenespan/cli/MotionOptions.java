package org.scenespan.cli;

import java.util.Optional;
import org.scenespan.light.Distance;
import org.scenespan.light.Movement;
import org.scenespan.light.SensorFormat;
import org.scenespan.light.Speed;
import picocli.CommandLine.Option;

/** A subject that moves. */
final class MotionOptions {
  @Option(
      names = "--speed",
      paramLabel = "SPEED",
      converter = Values.SpeedValue.class,
      description = "How fast the subject moves, such as 5km/h or 1.4m/s.")
  private Speed speed;

  @Option(
      names = "--subject",
      paramLabel = "DISTANCE",
      converter = Values.DistanceValue.class,
      description = "How far away the moving subject is, such as 10m.")
  private Distance subject;

  @Option(
      names = "--direction",
      paramLabel = "WAY",
      defaultValue = "across",
      description = "Which way it goes: across, diagonal or toward (${DEFAULT-VALUE}).")
  private Movement.Direction direction;

  @Option(
      names = "--blur",
      paramLabel = "PIXELS",
      description =
          "How long a blur still passes for sharp. Default: the circle of confusion (5 pixels on"
              + " 6000 columns).")
  private Double blur;

  /** The movement, where one is given whole. */
  Optional<Movement> movement() {
    if (speed == null && subject == null) {
      return Optional.empty();
    }
    if (speed == null || subject == null) {
      throw new IllegalArgumentException("a moving subject needs both --speed and --subject");
    }
    return Optional.of(new Movement(speed, subject, direction));
  }

  double pixels(SensorFormat sensor) {
    return blur != null ? blur : sensor.circlePixels();
  }
}

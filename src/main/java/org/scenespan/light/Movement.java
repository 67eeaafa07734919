package org.scenespan.light;

/**
 * A subject that moves, and how far its image runs on the sensor: v·t·f/d across the view, and for
 * what comes towards the camera the growth of its image, v·t·r/d at a corner, r half the diagonal.
 *
 * @param speed how fast
 * @param distance how far away
 * @param direction which way
 */
public record Movement(Speed speed, Distance distance, Direction direction) {
  /** Which way a subject goes, seen from the camera. */
  public enum Direction {
    ACROSS(90),
    DIAGONAL(45),
    TOWARD(0);

    private final double degrees;

    /**
     * @param degrees from the line of sight
     */
    Direction(double degrees) {
      this.degrees = degrees;
    }
  }

  /** How fast the image runs, in mm a second. */
  public double imageMillimetresPerSecond(FocalLength lens, SensorFormat sensor) {
    double angle = Math.toRadians(direction.degrees);
    double across = lens.millimetres() * Math.sin(angle);
    double growing = sensor.diagonalMillimetres() / 2 * Math.cos(angle);
    return speed.metresPerSecond() / distance.metres() * Math.max(across, growing);
  }

  /** The length of the blur in pixels. */
  public double blurPixels(Shutter shutter, FocalLength lens, SensorFormat sensor) {
    return imageMillimetresPerSecond(lens, sensor)
        * shutter.seconds()
        * 1000
        / sensor.pitchMicrometres();
  }

  /**
   * The longest time in seconds that keeps the blur within so many pixels; infinite for what is so
   * far away that it stands still.
   */
  public double longestSeconds(double pixels, FocalLength lens, SensorFormat sensor) {
    if (!(pixels > 0)) {
      throw new IllegalArgumentException("blur (" + pixels + " pixels) must be above 0");
    }
    return pixels * sensor.pitchMicrometres() / 1000 / imageMillimetresPerSecond(lens, sensor);
  }
}

package org.scenespan.rehearsal;

/** A scene's light for measurements that need every pixel: red, green, blue relative to its EV. */
public final class SceneLight {
  private SceneLight() {}

  /** Linear values of a row, 1 at the scene's own EV. */
  public static double[] row(Scene scene, int y) {
    float[] row = scene.row(y);
    double unit = Math.pow(2, scene.evOf(1).minus(scene.ev()).value());
    double[] light = new double[row.length];
    for (int i = 0; i < row.length; i++) {
      light[i] = row[i] * unit;
    }
    return light;
  }
}

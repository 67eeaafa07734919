package org.scenespan.rehearsal;

import java.nio.file.Path;
import java.time.OffsetDateTime;
import java.util.function.DoubleUnaryOperator;
import org.scenespan.frame.CodeScale;
import org.scenespan.frame.NoiseModel;
import org.scenespan.frame.Radiance;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;

/** The simulated sensor for tests of other rooms. */
public final class SensorTap {
  private static final OffsetDateTime TAKEN = OffsetDateTime.parse("2026-05-04T05:12:31Z");

  private SensorTap() {}

  public static Scene scene(float[][] rows, Ev ev) {
    return Scene.of("test", new Radiance(rows[0].length / 3, rows), ev);
  }

  /** The rows of a Radiance file. */
  public static float[][] radiance(Path file) {
    return RadianceFile.read(file).rows();
  }

  /** A row of a scene, three values a pixel. */
  public static float[] row(Scene scene, int y) {
    return scene.row(y);
  }

  private static SensorFrame expose(Scene scene, Exposure exposure, int frame) {
    return new Sensor(NoiseModel.TYPICAL, 7).expose(scene, exposure, frame);
  }

  /** A frame as linear codes of 16 bits, noise below black included. */
  public static short[] linear16(Scene scene, Exposure exposure, int frame) {
    SensorFrame taken = expose(scene, exposure, frame);
    short[] codes = new short[taken.codes().length];
    for (int i = 0; i < codes.length; i++) {
      int code = taken.codes()[i] & 0xffff;
      codes[i] =
          CodeScale.code16((double) (code - taken.black()) / (taken.white() - taken.black()));
    }
    return codes;
  }

  /**
   * A frame as codes of 8 bits through a tone curve.
   *
   * @param tone from light relative to the sensor's saturation to 0 to 1, the highest only where
   *     the picture clips
   */
  public static short[] rendered8(
      Scene scene, Exposure exposure, int frame, DoubleUnaryOperator tone) {
    SensorFrame taken = expose(scene, exposure, frame);
    short[] codes = new short[taken.codes().length];
    for (int i = 0; i < codes.length; i++) {
      double light =
          (double) ((taken.codes()[i] & 0xffff) - taken.black()) / (taken.white() - taken.black());
      codes[i] = (short) Math.round(255 * tone.applyAsDouble(Math.max(0, light)));
    }
    return codes;
  }

  public static byte[] jpeg(Scene scene, Exposure exposure, int frame, Rendering rendering) {
    return JpegFile.encode(
        expose(scene, exposure, frame), new FrameLabel(exposure, TAKEN), rendering);
  }

  public static byte[] jpeg(Scene scene, Exposure exposure, int frame) {
    return JpegFile.encode(expose(scene, exposure, frame), new FrameLabel(exposure, TAKEN));
  }

  public static byte[] dng(Scene scene, Exposure exposure, int frame) {
    return DngFile.encode(expose(scene, exposure, frame), new FrameLabel(exposure, TAKEN));
  }

  /**
   * A raw file of a sensor of one's own behind a shutter that is not exact.
   *
   * @param real what it is exposed with
   * @param told what the file says
   */
  public static byte[] dng(Scene scene, NoiseModel noise, Exposure real, Exposure told, int frame) {
    return DngFile.encode(
        new Sensor(noise, 7).expose(scene, real, frame), new FrameLabel(told, TAKEN));
  }
}

package org.scenespan.proof;

import org.opencv.core.CvType;
import org.opencv.core.Mat;

/** Pictures for OpenCV, the reference library. */
public final class Cv {
  static {
    nu.pattern.OpenCV.loadLocally();
  }

  private Cv() {}

  /** Has the library loaded. */
  public static void load() {}

  /** Codes of red, green and blue as a matrix in that order, which OpenCV's grey expects here. */
  public static Mat rgb(short[] codes, int width) {
    load();
    byte[] bytes = new byte[codes.length];
    for (int i = 0; i < bytes.length; i++) {
      bytes[i] = (byte) codes[i];
    }
    Mat mat = new Mat(codes.length / 3 / width, width, CvType.CV_8UC3);
    mat.put(0, 0, bytes);
    return mat;
  }
}

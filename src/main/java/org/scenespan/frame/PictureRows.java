package org.scenespan.frame;

/** Takes a picture's codes row by row, from the top to the bottom, each row once. */
public interface PictureRows {
  /** Comes once, before the first row. */
  void begin(PictureForm form);

  /**
   * @param rgb unsigned codes of red, green and blue of each pixel; used again after the call
   */
  void row(short[] rgb);
}

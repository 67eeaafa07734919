package org.scenespan.frame;

/** Takes a picture's codes, row by row in whatever order they come, one row at a time. */
public interface PictureRows {
  /**
   * Comes before the first row, and once more where the picture starts anew: all rows so far are
   * then void.
   */
  void begin(PictureForm form);

  /**
   * Takes one row; each comes once.
   *
   * @param y the row's number as the picture is stored, 0 at the top
   * @param rgb unsigned codes of red, green and blue of each pixel; used again after the call
   */
  void row(int y, short[] rgb);
}

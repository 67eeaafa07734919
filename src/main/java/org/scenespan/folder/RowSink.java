package org.scenespan.folder;

/** Takes a decoded picture row by row, from the top to the bottom, each row once. */
interface RowSink {
  /**
   * Comes once, before the first row.
   *
   * @param grey one byte to a pixel; else three, red, green and blue
   */
  void begin(int width, int height, boolean grey);

  /**
   * @param row the next row; the array is used again after the call
   */
  void row(byte[] row);
}

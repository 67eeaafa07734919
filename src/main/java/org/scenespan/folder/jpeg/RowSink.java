package org.scenespan.folder.jpeg;

/**
 * Takes a decoded picture's rows. A row is thrown away when the call returns: no picture is ever
 * whole in memory.
 */
public interface RowSink {
  /**
   * Comes before the first row, and once more where the picture starts anew: all rows so far are
   * then void.
   *
   * @param width pixels
   * @param height pixels
   */
  void begin(int width, int height);

  /** A part of the sink for one thread; several take rows at once, each other ones. */
  Part part();

  /** Takes rows of one thread. */
  interface Part {
    /**
     * Takes one row of {@linkplain org.scenespan.frame.PackedPixel packed pixels} in the {@link
     * org.scenespan.frame.RowOrder}.
     *
     * @param y the row's number, 0 at the top; the one after the call before, but where that was
     *     before a multiple of {@link org.scenespan.frame.PixelTally#BAND}
     */
    void row(int y, int[] pixels);

    /**
     * Shows the row above the next one, where the call before was not about it. Another part takes
     * it as its own; here it is only looked at.
     */
    void above(int y, int[] pixels);
  }
}

package org.scenespan.proof;

import org.scenespan.frame.CodeScale;
import org.scenespan.frame.PictureForm;
import org.scenespan.frame.PictureRows;

/**
 * A picture brought down to a given width by averaging linear light over each smaller pixel's exact
 * area, while its rows pass by. Only the small picture is in memory.
 */
final class ReducedPicture implements PictureRows {
  private static final int CHANNELS = 3;

  private final int mostColumns;
  private PictureForm form;
  private float[] lightOf;
  private int columns;
  private int lines;
  private double[] sums;

  /**
   * @param mostColumns the width to bring it down to; a smaller picture keeps its own. Both sides
   *     of the result are even, as a film's must be.
   */
  ReducedPicture(int mostColumns) {
    this.mostColumns = mostColumns;
  }

  @Override
  public void begin(PictureForm begun) {
    form = begun;
    int width = Math.min(mostColumns, begun.width());
    columns = Math.max(2, width / 2 * 2);
    lines =
        Math.max(2, (int) Math.round((double) begun.height() * columns / begun.width() / 2) * 2);
    sums = new double[columns * lines * CHANNELS];
    CodeScale scale = begun.response();
    lightOf = new float[scale.codes()];
    for (int code = 0; code < lightOf.length; code++) {
      lightOf[code] = scale.light(code);
    }
  }

  @Override
  public void row(int y, short[] rgb) {
    double[] row = across(rgb);
    double perLine = (double) lines / form.height();
    double from = y * perLine;
    double to = (y + 1) * perLine;
    for (int line = (int) from; line < lines && line < to; line++) {
      double part = Math.min(to, line + 1) - Math.max(from, line);
      int base = line * columns * CHANNELS;
      for (int i = 0; i < row.length; i++) {
        sums[base + i] += part * row[i];
      }
    }
  }

  /** One row, averaged across. */
  private double[] across(short[] rgb) {
    double[] row = new double[columns * CHANNELS];
    double perColumn = (double) columns / form.width();
    for (int x = 0; x < form.width(); x++) {
      double from = x * perColumn;
      double to = (x + 1) * perColumn;
      for (int column = (int) from; column < columns && column < to; column++) {
        double part = Math.min(to, column + 1) - Math.max(from, column);
        for (int channel = 0; channel < CHANNELS; channel++) {
          row[column * CHANNELS + channel] += part * lightOf[rgb[x * CHANNELS + channel] & 0xffff];
        }
      }
    }
    return row;
  }

  int columns() {
    return columns;
  }

  int lines() {
    return lines;
  }

  /** Linear light relative to saturation, red, green and blue of each pixel, line by line. */
  double[] light() {
    return sums;
  }
}

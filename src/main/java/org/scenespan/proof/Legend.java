package org.scenespan.proof;

import java.util.List;
import java.util.Locale;

/**
 * The words under a map: a swatch and what it means, a line each. Drawn with a letter of 5 × 7
 * points of its own, since a machine without a screen may have no fonts.
 */
final class Legend {
  /** Rows of each letter, five points wide, the leftmost the highest bit. */
  private static final String LETTERS = " 0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ-:,.";

  private static final int[][] POINTS = {
    {0, 0, 0, 0, 0, 0, 0},
    {14, 17, 19, 21, 25, 17, 14},
    {4, 12, 4, 4, 4, 4, 14},
    {14, 17, 1, 2, 4, 8, 31},
    {31, 2, 4, 2, 1, 17, 14},
    {2, 6, 10, 18, 31, 2, 2},
    {31, 16, 30, 1, 1, 17, 14},
    {6, 8, 16, 30, 17, 17, 14},
    {31, 1, 2, 4, 8, 8, 8},
    {14, 17, 17, 14, 17, 17, 14},
    {14, 17, 17, 15, 1, 2, 12},
    {14, 17, 17, 31, 17, 17, 17},
    {30, 17, 17, 30, 17, 17, 30},
    {14, 17, 16, 16, 16, 17, 14},
    {28, 18, 17, 17, 17, 18, 28},
    {31, 16, 16, 30, 16, 16, 31},
    {31, 16, 16, 30, 16, 16, 16},
    {14, 17, 16, 23, 17, 17, 15},
    {17, 17, 17, 31, 17, 17, 17},
    {14, 4, 4, 4, 4, 4, 14},
    {7, 2, 2, 2, 2, 18, 12},
    {17, 18, 20, 24, 20, 18, 17},
    {16, 16, 16, 16, 16, 16, 31},
    {17, 27, 21, 21, 17, 17, 17},
    {17, 17, 25, 21, 19, 17, 17},
    {14, 17, 17, 17, 17, 17, 14},
    {30, 17, 17, 30, 16, 16, 16},
    {14, 17, 17, 17, 21, 18, 13},
    {30, 17, 17, 30, 20, 18, 17},
    {15, 16, 16, 14, 1, 1, 30},
    {31, 4, 4, 4, 4, 4, 4},
    {17, 17, 17, 17, 17, 17, 14},
    {17, 17, 17, 17, 17, 10, 4},
    {17, 17, 17, 21, 21, 21, 10},
    {17, 17, 10, 4, 10, 17, 17},
    {17, 17, 17, 10, 4, 4, 4},
    {31, 1, 2, 4, 8, 16, 31},
    {0, 0, 0, 31, 0, 0, 0},
    {0, 12, 12, 0, 12, 12, 0},
    {0, 0, 0, 0, 12, 4, 8},
    {0, 0, 0, 0, 0, 12, 12}
  };

  private static final int LETTER_WIDTH = 6;
  private static final int LINE_HEIGHT = 11;
  private static final int SWATCH_WIDTH = 14;
  private static final int MARGIN = 4;

  /** Points of text across a picture at which a letter's point is one pixel. */
  private static final int POINTS_ACROSS = 420;

  private final int width;
  private final int scale;
  private final List<Line> lines;
  private final byte paper;
  private final byte ink;

  /**
   * A line of a legend.
   *
   * @param colour an index into the palette; −1 for a line of words alone
   */
  record Line(int colour, String words) {}

  /**
   * @param width pixels of the map
   * @param paper colour of the ground
   * @param ink colour of the words
   */
  Legend(int width, List<Line> lines, int paper, int ink) {
    this.width = width;
    this.scale = Math.max(1, width / POINTS_ACROSS);
    this.lines = List.copyOf(lines);
    this.paper = (byte) paper;
    this.ink = (byte) ink;
  }

  /** Rows that it takes. */
  int height() {
    return scale * (lines.size() * LINE_HEIGHT + 2 * MARGIN);
  }

  /** The same in one line of text. */
  String text() {
    StringBuilder text = new StringBuilder();
    for (Line line : lines) {
      text.append(text.isEmpty() ? "" : "; ").append(line.words());
    }
    return text.toString();
  }

  void row(int y, byte[] into) {
    int points = y / scale - MARGIN;
    for (int x = 0; x < width; x++) {
      into[x] = colour(x / scale - MARGIN, points);
    }
  }

  private byte colour(int x, int y) {
    if (x < 0 || y < 0 || y / LINE_HEIGHT >= lines.size()) {
      return paper;
    }
    Line line = lines.get(y / LINE_HEIGHT);
    int row = y % LINE_HEIGHT - 1;
    if (row < 0 || row >= 7) {
      return paper;
    }
    if (line.colour() >= 0 && x < SWATCH_WIDTH) {
      return (byte) line.colour();
    }
    int indent = line.colour() >= 0 ? SWATCH_WIDTH + MARGIN : 0;
    int at = (x - indent) / LETTER_WIDTH;
    int column = (x - indent) % LETTER_WIDTH;
    if (x < indent || at >= line.words().length() || column == 5) {
      return paper;
    }
    int letter = Math.max(0, LETTERS.indexOf(line.words().toUpperCase(Locale.ROOT).charAt(at)));
    return (POINTS[letter][row] >> 4 - column & 1) == 1 ? ink : paper;
  }
}

package org.scenespan.folder;

import java.io.IOException;
import org.scenespan.folder.TiffStructure.Directory;

/**
 * From a DNG's stored codes to linear light (DNG specification 1.6, chapter 5): the linearization
 * table, black levels by a repeated pattern, by column and by row, and the white level.
 *
 * <p>The specification scales a plane by its highest black level. Here each site is scaled by its
 * own, so that the code of the white level is saturation everywhere and no code below it is.
 *
 * @param samples of a pixel: 1 of a mosaic
 * @param linear codes of stored codes; empty where they are the same
 * @param rows of the pattern of black levels, from the active area's corner on
 * @param columns of it
 * @param black of the pattern, row by row, sample by sample
 * @param byColumn added to the black of each column of the active area; empty for none
 * @param byRow likewise of each row
 * @param white code of saturation of each sample
 */
record RawLevels(
    int samples,
    int[] linear,
    int rows,
    int columns,
    double[] black,
    double[] byColumn,
    double[] byRow,
    double[] white) {
  private static final int LINEARIZATION_TABLE = 50712;
  private static final int BLACK_LEVEL_REPEAT = 50713;
  private static final int BLACK_LEVEL = 50714;
  private static final int BLACK_LEVEL_DELTA_H = 50715;
  private static final int BLACK_LEVEL_DELTA_V = 50716;
  private static final int WHITE_LEVEL = 50717;
  private static final int LARGEST_PATTERN = 64;

  static RawLevels of(Directory directory, TiffLayout layout, RawPicture.Area active)
      throws IOException, UnreadableFrame {
    int samples = layout.samples();
    double[] repeat = directory.numbers(BLACK_LEVEL_REPEAT);
    int rows = repeat.length == 2 ? (int) repeat[0] : 1;
    int columns = repeat.length == 2 ? (int) repeat[1] : 1;
    if (!(rows >= 1 && rows <= LARGEST_PATTERN && columns >= 1 && columns <= LARGEST_PATTERN)) {
      throw new UnreadableFrame("its black levels are in a pattern of " + rows + " x " + columns);
    }
    RawLevels levels =
        new RawLevels(
            samples,
            table(directory),
            rows,
            columns,
            spread(directory.numbers(BLACK_LEVEL), rows * columns * samples, 0, "black levels"),
            deltas(directory, BLACK_LEVEL_DELTA_H, active.width(), "columns"),
            deltas(directory, BLACK_LEVEL_DELTA_V, active.height(), "rows"),
            spread(
                directory.numbers(WHITE_LEVEL), samples, full(directory, layout), "white levels"));
    levels.check();
    return levels;
  }

  private static int[] table(Directory directory) throws IOException, UnreadableFrame {
    double[] values = directory.numbers(LINEARIZATION_TABLE);
    if (values.length > 1 << 16) {
      throw new UnreadableFrame("its linearization table has " + values.length + " codes");
    }
    int[] table = new int[values.length];
    for (int i = 0; i < table.length; i++) {
      table[i] = (int) values[i] & 0xffff;
    }
    return table;
  }

  private static double full(Directory directory, TiffLayout layout)
      throws IOException, UnreadableFrame {
    double[] table = directory.numbers(LINEARIZATION_TABLE);
    return table.length > 0 ? table[table.length - 1] : Math.pow(2, layout.bits()) - 1;
  }

  /** One value for all, or one for each. */
  private static double[] spread(double[] values, int wanted, double otherwise, String what)
      throws UnreadableFrame {
    if (values.length != 0 && values.length != 1 && values.length < wanted) {
      throw new UnreadableFrame("it has " + values.length + " " + what + " and needs " + wanted);
    }
    double[] all = new double[wanted];
    for (int i = 0; i < wanted; i++) {
      all[i] = values.length == 0 ? otherwise : values[values.length == 1 ? 0 : i];
    }
    return all;
  }

  private static double[] deltas(Directory directory, int tag, int wanted, String what)
      throws IOException, UnreadableFrame {
    double[] values = directory.numbers(tag);
    if (values.length != 0 && values.length < wanted) {
      throw new UnreadableFrame("its black levels lack some " + what);
    }
    return values;
  }

  private void check() throws UnreadableFrame {
    double highest = -1;
    for (double level : black) {
      if (!(level >= 0 && level < 1 << 16)) {
        throw new UnreadableFrame("its black level is " + level);
      }
      highest = Math.max(highest, level);
    }
    highest += highest(byColumn) + highest(byRow);
    for (double level : white) {
      if (!(level < 1 << 16 && level > highest)) {
        throw new UnreadableFrame(
            "its white level (" + level + ") is not above its black level (" + highest + ")");
      }
    }
  }

  private static double highest(double[] deltas) {
    double highest = 0;
    for (double delta : deltas) {
      if (!(Math.abs(delta) < 1 << 16)) {
        return Double.POSITIVE_INFINITY;
      }
      highest = Math.max(highest, delta);
    }
    return highest;
  }

  /** Whether one black level to each site of a block of 2 x 2 says it all. */
  boolean isSimple() {
    return byColumn.length == 0 && byRow.length == 0 && rows <= 2 && columns <= 2;
  }

  /** The code of no light at a place in the active area. */
  double blackAt(int row, int column, int sample) {
    double level = black[(row % rows * columns + column % columns) * samples + sample];
    if (byColumn.length > 0) {
      level += byColumn[column];
    }
    return byRow.length > 0 ? level + byRow[row] : level;
  }

  /** Linear light of a code at a place in the active area, relative to saturation. */
  double light(int code, int row, int column, int sample) {
    if (code >= white[sample]) {
      return 1;
    }
    double level = blackAt(row, column, sample);
    return Math.max(0, (code - level) / (white[sample] - level));
  }

  /** The code behind a stored code. */
  int linearized(int stored) {
    return linear.length == 0 ? stored : linear[Math.min(stored, linear.length - 1)];
  }
}

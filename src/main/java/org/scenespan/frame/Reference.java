package org.scenespan.frame;

import java.util.Arrays;
import java.util.Optional;
import org.scenespan.light.Stops;

/**
 * The light of a reference frame, against which later frames are held. Immutable.
 *
 * @param file its name
 * @param grid its light
 * @param patch the grey card or target in it, where one is marked
 * @param sharpness of its parts, upright
 */
public record Reference(
    String file, ColourGrid grid, Optional<Patch> patch, SharpnessGrid sharpness) {
  /** Blocks that are darker than this tell noise, and of an 8-bit file single codes. */
  private static final double DARKEST = 0.004;

  /** Blocks with a channel above this may be clipped in part. */
  private static final double BRIGHTEST = 0.9;

  /** Below about the first code of an 8-bit file all is black. */
  private static final double BLACK = 2e-4;

  /** With fewer blocks that tell something a frame cannot be held against another. */
  private static final int LEAST_BLOCKS = 12;

  /** A reference frame whose parts' sharpness is not known. */
  public Reference(String file, ColourGrid grid, Optional<Patch> patch) {
    this(file, grid, patch, SharpnessGrid.NONE);
  }

  /** As {@link #against(ColourGrid, SharpnessGrid)}, of light alone. */
  public Optional<Deviation> against(ColourGrid now) {
    return against(now, SharpnessGrid.NONE);
  }

  /**
   * @param sharpnessNow of the frame's parts, upright
   * @return nothing where the frames have not one shape, or hold too little in common
   */
  public Optional<Deviation> against(ColourGrid now, SharpnessGrid sharpnessNow) {
    if (!grid.isLike(now)) {
      return Optional.empty();
    }
    double[] all = new double[grid.columns() * grid.lines()];
    double[][] lines = new double[grid.lines()][grid.columns()];
    double[][] columns = new double[grid.columns()][grid.lines()];
    int told = 0;
    for (int line = 0; line < grid.lines(); line++) {
      for (int column = 0; column < grid.columns(); column++) {
        double ratio = ratio(now, column, line, 0, 0);
        lines[line][column] = ratio;
        columns[column][line] = ratio;
        if (!Double.isNaN(ratio)) {
          all[told++] = ratio;
        }
      }
    }
    if (told < LEAST_BLOCKS) {
      return Optional.empty();
    }
    double whole = median(Arrays.copyOf(all, told));
    PatchTrack.Place place =
        patch
            .map(it -> new PatchTrack(grid, now, PatchTrack.Blocks.of(it, grid), whole).find())
            .orElse(new PatchTrack.Place(0, 0, true));
    Means here = means(now, place);
    return Optional.of(
        new Deviation(
            file,
            new Stops(patch.isPresent() && !Double.isNaN(here.exposure) ? here.exposure : whole),
            new Stops(whole),
            here.redToGreen,
            here.blueToGreen,
            patch.map(marked -> moved(marked, place)),
            place.seen(),
            patch.filter(it -> place.seen()).flatMap(it -> patchSharpness(it, place, sharpnessNow)),
            DarkBand.of(profile(lines), profile(columns))));
  }

  private record Means(double exposure, double redToGreen, double blueToGreen) {}

  /** Medians over the patch, or over the whole picture. */
  private Means means(ColourGrid now, PatchTrack.Place place) {
    PatchTrack.Blocks blocks =
        patch
            .map(it -> PatchTrack.Blocks.of(it, grid))
            .orElse(new PatchTrack.Blocks(0, 0, grid.columns(), grid.lines()));
    int size = (blocks.right() - blocks.left()) * (blocks.lower() - blocks.top());
    double[] exposure = new double[size];
    double[] red = new double[size];
    double[] blue = new double[size];
    int count = 0;
    int coloured = 0;
    for (int line = blocks.top(); line < blocks.lower(); line++) {
      for (int column = blocks.left(); column < blocks.right(); column++) {
        double ratio = ratio(now, column, line, place.columns(), place.lines());
        if (!Double.isNaN(ratio)) {
          int x = column + place.columns();
          int y = line + place.lines();
          exposure[count++] = ratio;
          if (tells(now, x, y)) {
            double green = grid.green(column, line) / now.green(x, y);
            red[coloured] = green * now.red(x, y) / grid.red(column, line);
            blue[coloured] = green * now.blue(x, y) / grid.blue(column, line);
            coloured++;
          }
        }
      }
    }
    if (count == 0) {
      return new Means(Double.NaN, 0, 0);
    }
    return new Means(
        median(Arrays.copyOf(exposure, count)),
        coloured == 0 ? 0 : median(Arrays.copyOf(red, coloured)) - 1,
        coloured == 0 ? 0 : median(Arrays.copyOf(blue, coloured)) - 1);
  }

  /**
   * Stops of a block against that of the reference; NaN where that does not tell. A block of this
   * frame that is black or clipped counts with what it has: that is what a misfire looks like.
   */
  private double ratio(ColourGrid now, int column, int line, int across, int down) {
    int x = column + across;
    int y = line + down;
    if (x < 0 || y < 0 || x >= now.columns() || y >= now.lines()) {
      return Double.NaN;
    }
    if (!tells(grid, column, line)) {
      return Double.NaN;
    }
    double light = Math.max(now.luminance(x, y), BLACK);
    return Math.log(light / grid.luminance(column, line)) / Math.log(2);
  }

  private static boolean tells(ColourGrid grid, int column, int line) {
    double red = grid.red(column, line);
    double green = grid.green(column, line);
    double blue = grid.blue(column, line);
    return grid.luminance(column, line) >= DARKEST
        && Math.min(red, Math.min(green, blue)) > 0
        && Math.max(red, Math.max(green, blue)) <= BRIGHTEST;
  }

  private Optional<Double> patchSharpness(Patch marked, PatchTrack.Place place, SharpnessGrid now) {
    if (sharpness.isNone() || !sharpness.isLike(now)) {
      return Optional.empty();
    }
    double then = sharpness.within(marked);
    return then > 0 && then >= sharpness.within(Patch.WHOLE)
        ? Optional.of(Math.rint(now.within(moved(marked, place)) / then * 1e4) / 1e4)
        : Optional.empty();
  }

  private Patch moved(Patch marked, PatchTrack.Place place) {
    return marked.movedTo(
        marked.left() + (double) place.columns() / grid.columns(),
        marked.top() + (double) place.lines() / grid.lines());
  }

  /** The median of each row of ratios; NaN where fewer than a quarter of them tell. */
  private static double[] profile(double[][] rows) {
    double[] medians = new double[rows.length];
    for (int i = 0; i < rows.length; i++) {
      double[] told = Arrays.stream(rows[i]).filter(value -> !Double.isNaN(value)).toArray();
      medians[i] = told.length * 4 < rows[i].length ? Double.NaN : median(told);
    }
    return medians;
  }

  private static double median(double[] values) {
    Arrays.sort(values);
    int half = values.length / 2;
    return values.length % 2 == 1 ? values[half] : (values[half - 1] + values[half]) / 2;
  }
}

package org.scenespan.folder;

import java.util.Optional;
import org.scenespan.frame.BlockGrid;
import org.scenespan.frame.Detail;
import org.scenespan.frame.Registration;
import org.scenespan.frame.Steadiness;

/**
 * The light of a lapse's last frame over blocks, against which the next one is set. It does not
 * outlive the program. Not for sharing between threads.
 */
final class GridBefore {
  private static final Kept NONE = new Kept("", Optional.empty(), 1);

  private Kept before = NONE;
  private Kept last = NONE;

  private record Kept(String file, Optional<BlockGrid> grid, int orientation) {}

  /** What a frame tells against the one before; one that is read again is still the same frame. */
  Steadiness next(String file, Measured measured) {
    Optional<BlockGrid> grid = measured.preview().map(Preview::grid);
    if (!last.file.equals(file)) {
      before = last;
    }
    last = new Kept(file, grid, measured.metadata().orientation());
    boolean alike = last.orientation == before.orientation;
    return new Steadiness(
        grid.flatMap(blocks -> Detail.of(measured.measure().regions(), blocks)),
        grid.isPresent() && before.grid.isPresent() && alike
            ? Registration.of(grid.get(), before.grid.get())
            : Optional.empty());
  }
}

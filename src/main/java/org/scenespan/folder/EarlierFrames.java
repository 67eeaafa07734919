package org.scenespan.folder;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import org.scenespan.frame.BlockGrid;
import org.scenespan.frame.BlockNoise;
import org.scenespan.frame.Comparison;
import org.scenespan.frame.FrameChange;
import org.scenespan.frame.FrameMetadata;
import org.scenespan.frame.NoiseModel;
import org.scenespan.light.Iso;

/**
 * The light of the last few frames over blocks, against which the next one is set. It does not
 * outlive the program: after a resumption the first frame has nothing to be set against. Not for
 * sharing between threads.
 */
public final class EarlierFrames {
  /** Frames that are kept: less than 1 MB in all. */
  private static final int KEPT = 4;

  private final NoiseModel noise;
  private final Deque<Kept> kept = new ArrayDeque<>();

  private record Kept(
      String file, BlockGrid grid, Iso iso, BlockNoise.Depth depth, int orientation) {}

  /**
   * @param noise the sensor's
   */
  public EarlierFrames(NoiseModel noise) {
    this.noise = noise;
  }

  /** What differs from the frames before, the latest first; this one is one of them from now on. */
  List<FrameChange> next(
      String file, BlockGrid grid, FrameMetadata metadata, BlockNoise.Depth depth) {
    Iso iso = metadata.iso().orElse(noise.baseIso());
    List<FrameChange> changes = new ArrayList<>();
    BlockNoise still = new BlockNoise(noise, depth);
    for (Kept earlier : kept) {
      if (earlier.depth == depth
          && earlier.orientation == metadata.orientation()
          && !earlier.file.equals(file)) {
        Optional<FrameChange> change =
            Comparison.of(grid, iso, earlier.grid, earlier.iso, earlier.file, still);
        change.ifPresent(changes::add);
      }
    }
    kept.addFirst(new Kept(file, grid, iso, depth, metadata.orientation()));
    if (kept.size() > KEPT) {
      kept.removeLast();
    }
    return changes;
  }
}

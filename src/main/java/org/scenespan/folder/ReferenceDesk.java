package org.scenespan.folder;

import java.awt.image.BufferedImage;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicReference;
import org.scenespan.frame.ColourGrid;
import org.scenespan.frame.Deviation;
import org.scenespan.frame.Patch;
import org.scenespan.frame.Reference;
import org.scenespan.frame.SharpnessGrid;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Holds frames against the reference frame while they are read. The wish for a reference comes on
 * any thread; all else is the folder's own.
 */
public final class ReferenceDesk {
  private static final Logger LOG = LoggerFactory.getLogger(ReferenceDesk.class);

  /** Frames whose light is at hand when they are made the reference: 8 MB. */
  private static final int KEPT = 32;

  private record Wish(String file, Optional<Patch> patch) {}

  /**
   * What came of holding a frame against the reference frame.
   *
   * @param against the reference frame's file; empty without one
   * @param deviation empty also where nothing can be told
   */
  record Look(Optional<String> against, Optional<Deviation> deviation) {
    static final Look AGAINST_NOTHING = new Look(Optional.empty(), Optional.empty());
  }

  /** What is kept of a frame, upright. */
  private record Seen(ColourGrid grid, SharpnessGrid sharpness) {
    static Seen of(Measured frame, Preview preview) {
      BufferedImage picture = preview.picture();
      int width = picture.getWidth();
      int height = picture.getHeight();
      return new Seen(
          ColourGrid.of(picture.getRGB(0, 0, width, height, null, 0, width), width, height),
          frame.measure().regions().upright(frame.metadata().orientation()));
    }
  }

  private final AtomicReference<Wish> wish = new AtomicReference<>();
  private final Map<String, Seen> kept =
      new LinkedHashMap<>() {
        private static final long serialVersionUID = 1;

        @Override
        protected boolean removeEldestEntry(Map.Entry<String, Seen> eldest) {
          return size() > KEPT;
        }
      };
  private Wish fulfilled;
  private Optional<Reference> reference = Optional.empty();

  /** Every frame that is read from now on is held against this one. */
  public void hold(String file, Optional<Patch> patch) {
    wish.set(new Wish(file, patch));
  }

  /** What a frame differs by from the reference frame, as far as there is one now. */
  Look look(Path file, Measured frame, FrameReader reader) {
    if (frame.preview().isEmpty()) {
      return new Look(Optional.ofNullable(wish.get()).map(Wish::file), Optional.empty());
    }
    Seen seen = Seen.of(frame, frame.preview().get());
    kept.put(file.getFileName().toString(), seen);
    settle(file.toAbsolutePath().getParent(), reader);
    return new Look(
        Optional.ofNullable(fulfilled).map(Wish::file),
        reference.flatMap(it -> it.against(seen.grid(), seen.sharpness())));
  }

  /** Makes the wished frame the reference; after a restart it is read again. */
  private void settle(Path folder, FrameReader reader) {
    Wish wished = wish.get();
    if (wished == null || wished.equals(fulfilled)) {
      return;
    }
    fulfilled = wished;
    Optional<Seen> seen = Optional.ofNullable(kept.get(wished.file()));
    if (seen.isEmpty()) {
      try {
        Measured frame = reader.drawn(folder.resolve(wished.file()));
        seen = frame.preview().map(preview -> Seen.of(frame, preview));
      } catch (UnreadableFrame e) {
        LOG.warn("The reference frame {} cannot be read: {}", wished.file(), e.getMessage());
      }
    }
    reference =
        seen.map(it -> new Reference(wished.file(), it.grid(), wished.patch(), it.sharpness()));
  }
}

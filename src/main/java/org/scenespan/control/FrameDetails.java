package org.scenespan.control;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Predicate;
import java.util.function.Supplier;
import org.scenespan.dashboard.Pictures;
import org.scenespan.folder.FrameDetail;
import org.scenespan.folder.PreviewStore;
import org.scenespan.folder.UnreadableFrame;
import org.scenespan.frame.FrameReading;
import org.scenespan.frame.Patch;
import org.scenespan.session.Event;
import org.scenespan.session.Mark;
import org.scenespan.session.State;

/**
 * A session's pictures for its page: previews as they were kept, and parts of its frames at full
 * size, cut from the hot folder when they are asked for. The files are only read.
 */
final class FrameDetails implements Pictures {
  /** Parts that are kept, so that one that is looked at again is not cut again: a few MB. */
  private static final int MOST_KEPT = 8;

  private final Path previews;
  private final Path folder;
  private final Pictures kept;
  private final Supplier<State> state;
  private final Map<String, byte[]> parts =
      new LinkedHashMap<>(16, 0.75f, true) {
        private static final long serialVersionUID = 1L;

        @Override
        protected boolean removeEldestEntry(Map.Entry<String, byte[]> eldest) {
          return size() > MOST_KEPT;
        }
      };

  FrameDetails(Path previews, Path folder) {
    this(previews, folder, () -> State.EMPTY);
  }

  /**
   * @param state what the session knows now
   */
  FrameDetails(Path previews, Path folder, Supplier<State> state) {
    this.state = state;
    this.previews = previews;
    this.folder = folder;
    this.kept = Pictures.in(previews);
  }

  @Override
  public Optional<byte[]> named(String name) {
    return kept.named(name);
  }

  @Override
  public Optional<String> latest() {
    return last(frame -> true);
  }

  @Override
  public Optional<String> latestKept() {
    Map<String, Event.FrameMarked> marks = state.get().tether().marks();
    return last(
        frame ->
            Optional.ofNullable(marks.get(frame.frame().file()))
                .filter(said -> said.mark() == Mark.KEEP)
                .isPresent());
  }

  private Optional<String> last(Predicate<Event.FrameWatched> wished) {
    List<Event.FrameWatched> frames = state.get().tether().frames();
    for (int i = frames.size() - 1; i >= 0; i--) {
      Optional<FrameReading.Pictures> pictures = frames.get(i).frame().pictures();
      if (pictures.isPresent() && wished.test(frames.get(i))) {
        return pictures.map(FrameReading.Pictures::preview);
      }
    }
    return Optional.empty();
  }

  /** One at a time: the processors are for the frames that land. */
  @Override
  public synchronized Optional<byte[]> part(String frame, Patch part) {
    Path file = folder.resolve(frame);
    // A frame of this session has a preview: nothing else in the folder is shown, or outside of it.
    boolean ours =
        file.getFileName() != null
            && file.getFileName().toString().equals(frame)
            && Files.isRegularFile(previews.resolve(PreviewStore.previewName(frame)))
            && Files.isRegularFile(file, LinkOption.NOFOLLOW_LINKS);
    if (!ours) {
      return Optional.empty();
    }
    try {
      String key = frame + " " + Files.getLastModifiedTime(file) + " " + part;
      byte[] before = parts.get(key);
      if (before == null) {
        before = FrameDetail.jpeg(file, part);
        parts.put(key, before);
      }
      return Optional.of(before);
    } catch (UnreadableFrame | IOException gone) {
      return Optional.empty();
    }
  }
}

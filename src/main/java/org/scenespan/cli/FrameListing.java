package org.scenespan.cli;

import java.nio.file.Path;
import java.util.List;
import org.scenespan.frame.FrameReading;
import org.scenespan.plan.SetReview;
import org.scenespan.plan.ShotFrame;

/** How what was found in frames is written; each call in the order of the files. */
interface FrameListing {
  /** Before the first. */
  default void start() {}

  void frame(Path file, FrameReading reading);

  /**
   * @param error in one line
   */
  void failed(Path file, String error);

  /** Raw file and JPEG of one press, both of which were read. */
  default void pair(Path rawFile, FrameReading raw, Path jpegFile, FrameReading jpeg) {}

  /** What the reader of what follows must know, a sentence. */
  default void note(String words) {}

  void set(List<ShotFrame> frames, SetReview review);

  /** After the last. */
  default void end() {}
}

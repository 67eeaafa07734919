package org.scenespan.proof.report;

import java.util.List;
import java.util.Optional;
import org.scenespan.frame.FrameMeasure;
import org.scenespan.frame.FrameReading;

/**
 * A frame of the contact sheet.
 *
 * @param title its number and file
 * @param lines what is said of it
 * @param measure for its histogram
 * @param preview the name of its small picture, where one was kept
 * @param told whether there is something to look at, so that it comes before others where not all
 *     have room
 */
record SheetFrame(
    String title,
    List<String> lines,
    FrameMeasure measure,
    Optional<String> preview,
    boolean told) {
  SheetFrame {
    lines = List.copyOf(lines);
  }

  static SheetFrame of(int index, FrameReading frame, List<String> lines, boolean told) {
    return new SheetFrame(
        index + "  " + frame.file(),
        lines,
        frame.measure(),
        frame.pictures().map(FrameReading.Pictures::preview),
        told);
  }
}

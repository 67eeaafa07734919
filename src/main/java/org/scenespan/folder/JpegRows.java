package org.scenespan.folder;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.scenespan.folder.jpeg.RowSink;
import org.scenespan.frame.CodeTone;
import org.scenespan.frame.FrameMeasure;
import org.scenespan.frame.FrameSource;
import org.scenespan.frame.PixelMeter;
import org.scenespan.frame.PixelTally;

/** Measures and draws a JPEG's rows as they come, on whatever thread they come. */
final class JpegRows implements RowSink {
  private final FrameSource source;
  private final CodeTone tone;
  private final boolean drawn;
  private final List<Part> parts = new ArrayList<>();
  private PixelMeter meter;
  private PreviewPainter painter;
  private int width;

  /**
   * @param drawn whether a preview is wanted
   */
  JpegRows(FrameSource source, CodeTone tone, boolean drawn) {
    this.source = source;
    this.tone = tone;
    this.drawn = drawn;
  }

  @Override
  public void begin(int columns, int rows) {
    width = columns;
    meter = new PixelMeter(columns, rows, source, tone);
    painter = drawn ? new PreviewPainter(columns, rows, tone) : null;
    parts.clear();
  }

  @Override
  public synchronized RowSink.Part part() {
    Part part = new Part();
    parts.add(part);
    return part;
  }

  /** To be called when the last row has come. */
  FrameMeasure measure() {
    return meter.measure();
  }

  /**
   * @param orientation Exif's 1 to 8
   */
  Optional<Preview> preview(int orientation) {
    if (!drawn) {
      return Optional.empty();
    }
    parts.forEach(part -> part.brush.end());
    return Optional.of(painter.preview(orientation));
  }

  private final class Part implements RowSink.Part {
    private final PixelTally tally = meter.tally();
    private final PreviewPainter.Part brush = drawn ? painter.part() : null;

    @Override
    public void row(int y, int[] pixels) {
      tally.row(y, pixels);
      if (drawn) {
        brush.row(y, pixels, tally.hasMarks(), tally::isMarked);
      }
    }

    @Override
    public void above(int y, int[] pixels) {
      tally.above(y, pixels);
    }
  }
}

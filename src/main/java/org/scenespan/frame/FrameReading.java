package org.scenespan.frame;

import java.util.List;
import java.util.Optional;

/**
 * One frame as the hot folder hands it over: numbers, never pixels.
 *
 * @param file the measured file's name, relative to its folder
 * @param format {@code jpeg}, {@code dng}, …
 * @param metadata what the file says of how it was taken
 * @param measure what the pixels tell
 * @param companion the other file of the same shutter press (the JPEG of a raw), if there is one
 * @param pictures the small pictures that were kept of it, if any were
 * @param colour the label of the {@link ColourSpace} by which the codes were taken
 * @param notes what a reader of the numbers must know, a sentence each: that a profile is not
 *     known, that a preview stands in for the raw data and why
 * @param replaces the file of the same shutter press whose reading this one replaces
 * @param changes what differs from frames before it, the latest first; of a few at most
 */
public record FrameReading(
    String file,
    String format,
    FrameMetadata metadata,
    FrameMeasure measure,
    Optional<String> companion,
    Optional<Pictures> pictures,
    String colour,
    List<String> notes,
    Optional<String> replaces,
    List<FrameChange> changes) {
  /** The colour of a picture that was taken by its camera's own, measured response. */
  public static final String MEASURED = "measured";

  public FrameReading {
    notes = List.copyOf(notes);
    changes = List.copyOf(changes);
  }

  /** A reading in sRGB with nothing to note. */
  public FrameReading(
      String file,
      String format,
      FrameMetadata metadata,
      FrameMeasure measure,
      Optional<String> companion,
      Optional<Pictures> pictures) {
    this(
        file,
        format,
        metadata,
        measure,
        companion,
        pictures,
        ColourSpace.SRGB.label(),
        List.of(),
        Optional.empty(),
        List.of());
  }

  /**
   * Names of the small pictures of a frame, in the session's own directory.
   *
   * @param preview the frame itself
   * @param mask a picture of the same size: red where a pixel is clipped, blue where it is crushed,
   *     transparent elsewhere
   */
  public record Pictures(String preview, String mask) {}

  public FrameReading withCompanion(Optional<String> name) {
    return new FrameReading(
        file, format, metadata, measure, name, pictures, colour, notes, replaces, changes);
  }

  /** This reading in the place of one that came before of the same shutter press. */
  public FrameReading inPlaceOf(String earlier) {
    return new FrameReading(
        file,
        format,
        metadata,
        measure,
        companion,
        pictures,
        colour,
        notes,
        Optional.of(earlier),
        changes);
  }

  /** Whether its light was taken by the camera's own response. */
  public boolean isByMeasuredResponse() {
    return colour.equals(MEASURED);
  }

  /** What differs from a frame before, if the two were set against each other. */
  public Optional<FrameChange> changeFrom(String earlier) {
    return changes.stream().filter(change -> change.against().equals(earlier)).findFirst();
  }
}

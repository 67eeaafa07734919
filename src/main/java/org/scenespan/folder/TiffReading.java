package org.scenespan.folder;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.scenespan.frame.ColourSpace;
import org.scenespan.frame.FrameMetadata;
import org.scenespan.frame.FrameSource;

/**
 * Measures a file of TIFF's structure: a sensor's picture (DNG), else, of a raw file, the biggest
 * JPEG that it carries, else the picture itself.
 */
final class TiffReading {
  /** Measures a JPEG that lies within another file. */
  interface JpegMeter {
    Measured measure(JpegFile jpeg, FrameSource source) throws IOException, UnreadableFrame;
  }

  private final Bytes bytes;
  private final TiffStructure tiff;
  private final FrameMetadata metadata;
  private final boolean drawn;
  private final JpegMeter jpegMeter;

  TiffReading(Bytes bytes, boolean drawn, JpegMeter jpegMeter) throws IOException, UnreadableFrame {
    this.bytes = bytes;
    this.drawn = drawn;
    this.jpegMeter = jpegMeter;
    this.tiff = TiffStructure.of(bytes);
    try (BytesImageStream input = new BytesImageStream(bytes)) {
      this.metadata = ExifReader.read(input).metadata();
    }
  }

  /**
   * @param raw whether the file's name is that of a raw format
   */
  Measured measure(boolean raw) throws IOException, UnreadableFrame {
    Optional<TiffStructure.Directory> sensor = RawPicture.directoryIn(tiff);
    if (sensor.isEmpty() && !raw) {
      return picture();
    }
    String why = "its raw data is of a kind that is not read";
    if (sensor.isPresent()) {
      RawPicture picture;
      try {
        picture = RawPicture.of(sensor.get(), tiff.isBigEndian());
        return picture.mosaic().isPresent() ? mosaic(picture) : linear(picture);
      } catch (UnreadableFrame e) {
        why = e.getMessage();
      }
    }
    Optional<JpegFile> preview = EmbeddedPreview.largest(tiff, bytes);
    if (preview.isEmpty()) {
      throw new UnreadableFrame(why + ", and it carries no JPEG");
    }
    return embedded(preview.get(), why);
  }

  private Measured mosaic(RawPicture picture) throws IOException, UnreadableFrame {
    MosaicReading reading = new MosaicReading(bytes, picture, drawn);
    return new Measured(
        "dng",
        metadata,
        reading.measure(),
        reading.preview(metadata.orientation()),
        ColourSpace.SENSOR,
        List.of());
  }

  private Measured linear(RawPicture picture) throws IOException, UnreadableFrame {
    RawPicture.Area active = picture.active();
    RawLevels levels = picture.levels();
    int samples = picture.layout().samples();
    TiffPixels pixels = new TiffPixels(bytes, picture.layout());
    LightRows rows =
        new LightRows(
            active.width(), active.height(), FrameSource.RAW, ColourSpace.SENSOR, samples, drawn);
    int[] codes = new int[picture.layout().width() * samples];
    double[] light = new double[active.width() * samples];
    for (int y = 0; y < active.height(); y++) {
      pixels.row(active.top() + y, codes);
      for (int x = 0, i = 0; x < active.width(); x++) {
        for (int sample = 0; sample < samples; sample++, i++) {
          int code = levels.linearized(codes[active.left() * samples + i]);
          light[i] = levels.light(code, y, x, sample);
        }
      }
      rows.row(light);
    }
    return measured("dng", rows, ColourSpace.SENSOR, List.of());
  }

  private Measured picture() throws IOException, UnreadableFrame {
    TiffStructure.Directory directory =
        TiffPicture.directoryIn(tiff)
            .orElseThrow(() -> new UnreadableFrame("the TIFF holds no picture"));
    TiffLayout layout = TiffLayout.of(directory, tiff.isBigEndian());
    Colours colours = Colours.of(directory);
    TiffPicture picture = new TiffPicture(bytes, directory, layout, colours.space());
    LightRows rows =
        new LightRows(
            layout.width(),
            layout.height(),
            FrameSource.FULL,
            picture.space(),
            picture.channels(),
            drawn);
    double[] light = new double[layout.width() * picture.channels()];
    for (int y = 0; y < layout.height(); y++) {
      picture.row(y, light);
      rows.row(light);
    }
    boolean real = layout.kind() == TiffLayout.Kind.FLOAT;
    return measured("tiff", rows, picture.space(), real ? List.of() : colours.notes());
  }

  private Measured measured(String format, LightRows rows, ColourSpace space, List<String> notes) {
    return new Measured(
        format, metadata, rows.measure(), rows.preview(metadata.orientation()), space, notes);
  }

  /** The raw file's own Exif counts; the JPEG's only where that says nothing of the exposure. */
  private Measured embedded(JpegFile jpeg, String why) throws IOException, UnreadableFrame {
    Measured inner = jpegMeter.measure(jpeg, FrameSource.EMBEDDED_PREVIEW);
    List<String> notes = new ArrayList<>(inner.notes());
    notes.add("Its embedded JPEG was measured, since " + why + ".");
    boolean own = metadata.exposure().isPresent() || inner.metadata().exposure().isEmpty();
    return new Measured(
        "raw",
        own ? metadata : inner.metadata(),
        inner.measure(),
        inner.preview(),
        inner.colour(),
        notes);
  }
}

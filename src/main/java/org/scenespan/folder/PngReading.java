package org.scenespan.folder;

import com.twelvemonkeys.imageio.stream.ByteArrayImageInputStream;
import java.io.IOException;
import java.util.Optional;
import org.scenespan.frame.FrameMetadata;
import org.scenespan.frame.FrameSource;

/** Measures a PNG. */
final class PngReading {
  private static final int MAX_EXIF_BYTES = 1 << 22;

  private PngReading() {}

  static Measured of(Bytes bytes, boolean drawn) throws IOException, UnreadableFrame {
    PngPicture png = new PngPicture(bytes);
    Colours colours = PngColour.of(png, bytes);
    FrameMetadata metadata = metadata(png, bytes);
    LightRows rows =
        new LightRows(
            png.width(), png.height(), FrameSource.FULL, colours.space(), png.channels(), drawn);
    png.rows(colours.space(), rows::row);
    return new Measured(
        "png",
        metadata,
        rows.measure(),
        rows.preview(metadata.orientation()),
        colours.space(),
        colours.notes());
  }

  private static FrameMetadata metadata(PngPicture png, Bytes bytes) throws IOException {
    Optional<PngPicture.Chunk> exif = PngColour.exif(png);
    if (exif.isEmpty() || exif.get().length() > MAX_EXIF_BYTES) {
      return FrameMetadata.NONE;
    }
    byte[] content = new byte[exif.get().length()];
    bytes.read(exif.get().position(), content, 0, content.length);
    try (ByteArrayImageInputStream input = new ByteArrayImageInputStream(content)) {
      return ExifReader.read(input).metadata();
    }
  }
}

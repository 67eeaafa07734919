package org.scenespan.folder;

import com.twelvemonkeys.imageio.stream.ByteArrayImageInputStream;
import java.io.EOFException;
import java.io.IOException;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.EnumSet;
import java.util.Optional;
import org.scenespan.folder.codec.DamagedData;
import org.scenespan.frame.FrameReading;
import org.scenespan.frame.FrameSource;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Reads and measures one file in a single pass over its pixels: JPEG of 8 bits, TIFF, PNG, DNG, the
 * JPEG within other raw files of TIFF's structure, and Radiance. Files are opened for reading only.
 */
public final class FrameReader {
  private static final Logger LOG = LoggerFactory.getLogger(FrameReader.class);

  private final JpegDecoder jpegDecoder;

  public FrameReader() {
    this(new QuickJpegDecoder());
  }

  FrameReader(JpegDecoder jpegDecoder) {
    this.jpegDecoder = jpegDecoder;
  }

  /**
   * @throws UnreadableFrame if the file is no frame, is damaged, or is of a kind that is not read;
   *     nothing else is thrown, whatever is in the file
   */
  public FrameReading read(Path file) throws UnreadableFrame {
    return guarded(file, Optional.empty());
  }

  /**
   * Reads a frame and keeps a preview and a clip mask of it. A preview that cannot be written is
   * logged and does not cost the frame.
   *
   * @throws UnreadableFrame as {@link #read(Path)}
   */
  public FrameReading read(Path file, PreviewStore previews) throws UnreadableFrame {
    return guarded(file, Optional.of(previews));
  }

  /** Whether two names are those of a raw file and the JPEG of the same shutter press. */
  public static boolean areOnePress(String one, String other) {
    Optional<FrameName> first = FrameName.of(one);
    Optional<FrameName> second = FrameName.of(other);
    return first.isPresent()
        && second.isPresent()
        && first.get().stem().equals(second.get().stem())
        && EnumSet.of(first.get().kind(), second.get().kind())
            .equals(EnumSet.of(FrameName.Kind.RAW, FrameName.Kind.JPEG));
  }

  private FrameReading guarded(Path file, Optional<PreviewStore> previews) throws UnreadableFrame {
    try (Bytes bytes = Bytes.open(file)) {
      if (bytes.size() == 0) {
        throw new UnreadableFrame("the file is empty");
      }
      if (bytes.size() > HotFolder.MAX_FILE_BYTES) {
        throw new UnreadableFrame("the file is bigger than 1 GiB");
      }
      return reading(file, previews, measured(file, bytes, previews.isPresent()));
    } catch (NoSuchFileException e) {
      throw new UnreadableFrame("the file has gone", e);
    } catch (EOFException e) {
      throw new UnreadableFrame("the file ends too early", e);
    } catch (DamagedData e) {
      throw new UnreadableFrame(e.getMessage(), e);
    } catch (IOException e) {
      throw new UnreadableFrame("the file cannot be read: " + e.getMessage(), e);
    } catch (RuntimeException e) {
      throw new UnreadableFrame("the file makes no sense: " + e, e);
    } catch (OutOfMemoryError e) {
      throw new UnreadableFrame("the file takes more memory than there is", e);
    }
  }

  /**
   * @param drawn whether a preview is wanted
   */
  Measured measured(Path file, Bytes bytes, boolean drawn) throws IOException, UnreadableFrame {
    return switch (FrameFormat.of(bytes)) {
      case JPEG -> jpeg(JpegFile.read(bytes), FrameSource.FULL, drawn);
      case TIFF ->
          new TiffReading(bytes, drawn, (jpeg, source) -> jpeg(jpeg, source, drawn))
              .measure(FrameName.isRaw(file.getFileName().toString()));
      case PNG -> PngReading.of(bytes, drawn);
      case RADIANCE -> RadianceReading.of(bytes, drawn);
      case UNKNOWN ->
          throw new UnreadableFrame("its first bytes are those of no format that is read");
    };
  }

  private Measured jpeg(JpegFile jpeg, FrameSource source, boolean drawn)
      throws IOException, UnreadableFrame {
    ExifReader.Exif exif = exif(jpeg);
    Colours colours = Colours.of(jpeg, exif.colour());
    JpegRows rows = new JpegRows(source, colours.space(), drawn);
    jpegDecoder.decode(jpeg, rows);
    int orientation = exif.metadata().orientation();
    return new Measured(
        "jpeg",
        exif.metadata(),
        rows.measure(),
        rows.preview(orientation),
        colours.space(),
        colours.notes());
  }

  private static ExifReader.Exif exif(JpegFile jpeg) throws IOException {
    if (jpeg.exif().isEmpty()) {
      return ExifReader.Exif.NONE;
    }
    int start = (int) jpeg.exif().get().position() + JpegFile.EXIF_OFFSET;
    int length = jpeg.exif().get().length() - JpegFile.EXIF_OFFSET;
    if (length < 8) {
      return ExifReader.Exif.NONE;
    }
    try (ByteArrayImageInputStream input =
        new ByteArrayImageInputStream(jpeg.start(), start, length)) {
      return ExifReader.read(input);
    }
  }

  private static Optional<FrameReading.Pictures> keep(
      String name, Optional<PreviewStore> previews, Optional<Preview> preview) {
    if (previews.isEmpty() || preview.isEmpty()) {
      return Optional.empty();
    }
    try {
      return Optional.of(previews.get().save(name, preview.get()));
    } catch (IOException e) {
      LOG.warn("The preview of {} cannot be kept: {}", name, e.toString());
      return Optional.empty();
    }
  }

  private static FrameReading reading(
      Path file, Optional<PreviewStore> previews, Measured measured) {
    String name = file.getFileName().toString();
    return new FrameReading(
        name,
        measured.format(),
        measured.metadata(),
        measured.measure(),
        Optional.empty(),
        keep(name, previews, measured.preview()),
        measured.colour().label(),
        measured.notes(),
        Optional.empty());
  }
}

package org.scenespan.folder;

import com.twelvemonkeys.imageio.stream.ByteArrayImageInputStream;
import java.io.EOFException;
import java.io.IOException;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import org.scenespan.folder.codec.DamagedData;
import org.scenespan.frame.BlockNoise;
import org.scenespan.frame.CameraProfile;
import org.scenespan.frame.CodeTone;
import org.scenespan.frame.Deviation;
import org.scenespan.frame.FrameChange;
import org.scenespan.frame.FrameReading;
import org.scenespan.frame.FrameSource;
import org.scenespan.frame.Patch;
import org.scenespan.frame.Region;
import org.scenespan.frame.Steadiness;
import org.scenespan.light.Stops;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Reads and measures one file in a single pass over its pixels: JPEG of 8 bits, TIFF, PNG, DNG, the
 * JPEG within other raw files of TIFF's structure, and Radiance. Files are opened for reading only.
 */
public final class FrameReader {
  private static final Logger LOG = LoggerFactory.getLogger(FrameReader.class);

  private final JpegDecoder jpegDecoder;
  private final JpegTones tones;

  public FrameReader() {
    this(new QuickJpegDecoder(), Optional.empty());
  }

  /** Takes JPEGs of a camera by its own response. */
  public FrameReader(Optional<CameraProfile> camera) {
    this(new QuickJpegDecoder(), camera);
  }

  FrameReader(JpegDecoder jpegDecoder) {
    this(jpegDecoder, Optional.empty());
  }

  private FrameReader(JpegDecoder jpegDecoder, Optional<CameraProfile> camera) {
    this.jpegDecoder = jpegDecoder;
    this.tones = new JpegTones(camera);
  }

  /**
   * Reads a frame alone; only then the reading tells of the sharpness of its parts.
   *
   * @throws UnreadableFrame if the file is no frame, is damaged, or is of a kind that is not read;
   *     nothing else is thrown, whatever is in the file
   */
  public FrameReading read(Path file) throws UnreadableFrame {
    return reading(file, Optional.empty(), Optional.empty(), opened(file, false));
  }

  /**
   * Reads a frame and keeps a preview and a clip mask of it. A preview that cannot be written is
   * logged and does not cost the frame.
   *
   * @throws UnreadableFrame as {@link #read(Path)}
   */
  public FrameReading read(Path file, PreviewStore previews) throws UnreadableFrame {
    return guarded(file, Optional.of(previews), Optional.empty());
  }

  /**
   * Reads a frame, keeps its pictures as {@link #read(Path, PreviewStore)} does, and sets it
   * against those before it.
   *
   * @throws UnreadableFrame as {@link #read(Path)}
   */
  FrameReading read(Path file, Optional<PreviewStore> previews, Optional<EarlierFrames> earlier)
      throws UnreadableFrame {
    return guarded(file, previews, earlier);
  }

  /**
   * A frame with what was told of it beside its own numbers.
   *
   * @param against the file of the reference frame that it was held against, if there was one
   * @param deviation from that, where it can be told
   * @param level how bright a lapse's part of the picture is, relative to saturation
   * @param steadiness whether a lapse's camera and lens are as they were
   */
  record Held(
      FrameReading reading,
      Optional<String> against,
      Optional<Deviation> deviation,
      Optional<Stops> level,
      Steadiness steadiness) {
    Held(FrameReading reading, ReferenceDesk.Look look) {
      this(reading, look.against(), look.deviation(), Optional.empty(), Steadiness.UNKNOWN);
    }
  }

  /**
   * Reads a frame as {@link #read(Path, PreviewStore)} does, measures a part of it, and sets it
   * against the one before.
   *
   * @throws UnreadableFrame as {@link #read(Path)}
   */
  Held read(Path file, PreviewStore previews, GridBefore before, Region region)
      throws UnreadableFrame {
    Measured measured = opened(file, true);
    Patch part = region.patch().asFiled(measured.metadata().orientation());
    return new Held(
        reading(file, Optional.of(previews), Optional.empty(), measured.withoutRegions()),
        Optional.empty(),
        Optional.empty(),
        measured.preview().flatMap(preview -> preview.grid().trimmedMean(part, Region.TRIM)),
        before.next(file.getFileName().toString(), measured));
  }

  /**
   * Reads a frame as {@link #read(Path, PreviewStore)} does and holds it against the reference
   * frame.
   *
   * @throws UnreadableFrame as {@link #read(Path)}
   */
  Held read(Path file, PreviewStore previews, ReferenceDesk desk) throws UnreadableFrame {
    Measured measured = opened(file, true);
    return new Held(
        reading(file, Optional.of(previews), Optional.empty(), measured.withoutRegions()),
        desk.look(file, measured, this));
  }

  /**
   * A frame with its small picture.
   *
   * @throws UnreadableFrame as {@link #read(Path)}
   */
  Measured drawn(Path file) throws UnreadableFrame {
    return opened(file, true);
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

  private FrameReading guarded(
      Path file, Optional<PreviewStore> previews, Optional<EarlierFrames> earlier)
      throws UnreadableFrame {
    Measured measured = opened(file, previews.isPresent());
    return reading(file, previews, earlier, measured.withoutRegions());
  }

  private Measured opened(Path file, boolean drawn) throws UnreadableFrame {
    try (Bytes bytes = Bytes.open(file)) {
      if (bytes.size() == 0) {
        throw new UnreadableFrame("the file is empty");
      }
      if (bytes.size() > HotFolder.MAX_FILE_BYTES) {
        throw new UnreadableFrame("the file is bigger than 1 GiB");
      }
      return measured(file, bytes, drawn);
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
    CodeTone tone = tones.of(colours.space(), exif.metadata());
    JpegRows rows = new JpegRows(source, tone, drawn);
    jpegDecoder.decode(jpeg, rows);
    int orientation = exif.metadata().orientation();
    return new Measured(
        "jpeg",
        exif.metadata(),
        rows.measure(),
        rows.preview(orientation),
        tone.measured() ? colours.space().named(FrameReading.MEASURED) : colours.space(),
        tones.notes(colours, tone, exif.metadata()));
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
      Path file,
      Optional<PreviewStore> previews,
      Optional<EarlierFrames> earlier,
      Measured measured) {
    String name = file.getFileName().toString();
    List<FrameChange> changes =
        earlier.isEmpty() || measured.preview().isEmpty()
            ? List.of()
            : earlier
                .get()
                .next(name, measured.preview().get().grid(), measured.metadata(), depth(measured));
    return new FrameReading(
        name,
        measured.format(),
        measured.metadata(),
        measured.measure(),
        Optional.empty(),
        keep(name, previews, measured.preview()),
        measured.colour().label(),
        measured.notes(),
        Optional.empty(),
        changes);
  }

  private static BlockNoise.Depth depth(Measured measured) {
    return measured.measure().source() == FrameSource.RAW
        ? BlockNoise.Depth.RAW
        : measured.colour().label().equals(FrameReading.MEASURED)
            ? BlockNoise.Depth.MEASURED
            : BlockNoise.Depth.GUESSED;
  }
}

package org.scenespan.folder;

import com.twelvemonkeys.imageio.stream.ByteArrayImageInputStream;
import java.io.EOFException;
import java.io.IOException;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.Optional;
import org.scenespan.frame.FrameMeasure;
import org.scenespan.frame.FrameMetadata;
import org.scenespan.frame.FrameReading;
import org.scenespan.frame.FrameSource;
import org.scenespan.frame.Mosaic;
import org.scenespan.frame.MosaicMeter;
import org.scenespan.frame.PixelMeter;
import org.scenespan.frame.ToneResponse;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Reads and measures one file in a single pass over its pixels: JPEG of 8 bits in grey or colour,
 * and DNG with an uncompressed Bayer mosaic. Files are opened for reading only.
 */
public final class FrameReader {
  private static final Logger LOG = LoggerFactory.getLogger(FrameReader.class);

  /** The guess until a camera's own response is known (IEC 61966-2-1). */
  private static final ToneResponse SRGB = ToneResponse.srgb(8);

  private final JpegDecoder jpegDecoder;

  public FrameReader() {
    this(new PlainJpegDecoder());
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

  private FrameReading guarded(Path file, Optional<PreviewStore> previews) throws UnreadableFrame {
    try (Bytes bytes = Bytes.open(file)) {
      if (bytes.size() == 0) {
        throw new UnreadableFrame("the file is empty");
      }
      if (bytes.size() > HotFolder.MAX_FILE_BYTES) {
        throw new UnreadableFrame("the file is bigger than 1 GiB");
      }
      return switch (FrameFormat.of(bytes)) {
        case JPEG -> readJpeg(file, bytes, previews);
        case TIFF -> readRaw(file, bytes, previews);
        case PNG -> throw new UnreadableFrame("PNG is not read");
        case UNKNOWN ->
            throw new UnreadableFrame("its first bytes are those of no format that is read");
      };
    } catch (NoSuchFileException e) {
      throw new UnreadableFrame("the file has gone", e);
    } catch (EOFException e) {
      throw new UnreadableFrame("the file ends too early", e);
    } catch (IOException e) {
      throw new UnreadableFrame("the file cannot be read: " + e.getMessage(), e);
    } catch (RuntimeException e) {
      throw new UnreadableFrame("the file makes no sense: " + e, e);
    } catch (OutOfMemoryError e) {
      throw new UnreadableFrame("the file takes more memory than there is", e);
    }
  }

  private FrameReading readJpeg(Path file, Bytes bytes, Optional<PreviewStore> previews)
      throws IOException, UnreadableFrame {
    JpegFile jpeg = JpegFile.read(bytes);
    FrameMetadata metadata = metadata(jpeg);
    JpegRows rows = new JpegRows(previews.isPresent());
    jpegDecoder.decode(jpeg, rows);
    FrameMeasure measure = rows.meter.measure();
    return reading(file, "jpeg", metadata, measure, keep(file, previews, rows.painter, metadata));
  }

  private static FrameMetadata metadata(JpegFile jpeg) throws IOException {
    if (jpeg.exif().isEmpty()) {
      return FrameMetadata.NONE;
    }
    int start = (int) jpeg.exif().get().position() + JpegFile.EXIF_OFFSET;
    int length = jpeg.exif().get().length() - JpegFile.EXIF_OFFSET;
    if (length < 8) {
      return FrameMetadata.NONE;
    }
    try (ByteArrayImageInputStream input =
        new ByteArrayImageInputStream(jpeg.bytes(), start, length)) {
      return ExifReader.read(input);
    }
  }

  private FrameReading readRaw(Path file, Bytes bytes, Optional<PreviewStore> previews)
      throws IOException, UnreadableFrame {
    TiffStructure tiff = TiffStructure.of(bytes);
    RawPicture picture = RawPicture.in(tiff);
    FrameMetadata metadata;
    try (BytesImageStream input = new BytesImageStream(bytes)) {
      metadata = ExifReader.read(input);
    }
    int width = picture.active().width();
    int height = picture.active().height();
    MosaicMeter meter = new MosaicMeter(width, height, picture.mosaic());
    PreviewPainter painter =
        previews.isPresent() ? new PreviewPainter(meter.columns(), meter.rows()) : null;
    MosaicColours colours = new MosaicColours(picture.mosaic());
    RawRows rows = new RawRows(bytes, picture, tiff.isBigEndian());
    short[] upper = new short[width];
    short[] lower = new short[width];
    byte[] flags = new byte[meter.columns()];
    byte[] rgb = new byte[meter.columns() * 3];
    for (int row = 0; row < meter.rows(); row++) {
      rows.read(row * 2, upper);
      rows.read(row * 2 + 1, lower);
      meter.blockRow(upper, lower, flags);
      if (painter != null) {
        colours.row(upper, lower, rgb);
        painter.row(rgb, 3, flags);
      }
    }
    FrameMeasure measure = meter.measure();
    return reading(file, "dng", metadata, measure, keep(file, previews, painter, metadata));
  }

  private static Optional<FrameReading.Pictures> keep(
      Path file, Optional<PreviewStore> previews, PreviewPainter painter, FrameMetadata metadata) {
    if (previews.isEmpty()) {
      return Optional.empty();
    }
    String name = file.getFileName().toString();
    try {
      return Optional.of(previews.get().save(name, painter.preview(metadata.orientation())));
    } catch (IOException e) {
      LOG.warn("The preview of {} cannot be kept: {}", name, e.toString());
      return Optional.empty();
    }
  }

  private static FrameReading reading(
      Path file,
      String format,
      FrameMetadata metadata,
      FrameMeasure measure,
      Optional<FrameReading.Pictures> pictures) {
    String name = file.getFileName().toString();
    return new FrameReading(name, format, metadata, measure, Optional.empty(), pictures);
  }

  /** Measures and draws a JPEG's rows as they come. */
  private static final class JpegRows implements RowSink {
    private final boolean drawn;
    private PixelMeter meter;
    private PreviewPainter painter;
    private byte[] flags;
    private boolean grey;

    JpegRows(boolean drawn) {
      this.drawn = drawn;
    }

    @Override
    public void begin(int width, int height, boolean isGrey) {
      meter = new PixelMeter(width, height, FrameSource.FULL, SRGB);
      painter = drawn ? new PreviewPainter(width, height) : null;
      flags = new byte[width];
      grey = isGrey;
    }

    @Override
    public void row(byte[] row) {
      if (grey) {
        meter.greyRow(row, flags);
      } else {
        meter.colourRow(row, flags);
      }
      if (painter != null) {
        painter.row(row, grey ? 1 : 3, flags);
      }
    }
  }

  /** A block of four sites as one sRGB pixel, for a preview only: no white balance. */
  private static final class MosaicColours {
    private final byte[][] encoded = new byte[Mosaic.SITES][];
    private final String colours;

    MosaicColours(Mosaic mosaic) {
      this.colours = mosaic.colours();
      for (int site = 0; site < Mosaic.SITES; site++) {
        ToneResponse response = mosaic.response(site);
        encoded[site] = new byte[response.codes()];
        for (int code = 0; code < response.codes(); code++) {
          encoded[site][code] =
              (byte) Math.round(255 * ToneResponse.linearToSrgb(response.linear(code)));
        }
      }
    }

    void row(short[] upper, short[] lower, byte[] rgb) {
      int red = colours.indexOf('R');
      int blue = colours.indexOf('B');
      int green = colours.indexOf('G');
      int other = colours.lastIndexOf('G');
      int[] code = new int[Mosaic.SITES];
      for (int i = 0, x = 0; i < rgb.length; i += 3, x += 2) {
        code[0] = upper[x] & 0xffff;
        code[1] = upper[x + 1] & 0xffff;
        code[2] = lower[x] & 0xffff;
        code[3] = lower[x + 1] & 0xffff;
        rgb[i] = encoded[red][code[red]];
        int greens = (encoded[green][code[green]] & 0xff) + (encoded[other][code[other]] & 0xff);
        rgb[i + 1] = (byte) (greens / 2);
        rgb[i + 2] = encoded[blue][code[blue]];
      }
    }
  }
}

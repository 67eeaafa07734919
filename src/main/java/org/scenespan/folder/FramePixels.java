package org.scenespan.folder;

import com.twelvemonkeys.imageio.stream.ByteArrayImageInputStream;
import java.io.EOFException;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.Optional;
import org.scenespan.folder.codec.DamagedData;
import org.scenespan.folder.jpeg.RowSink;
import org.scenespan.frame.CodeScale;
import org.scenespan.frame.FrameMetadata;
import org.scenespan.frame.PackedPixel;
import org.scenespan.frame.PictureForm;
import org.scenespan.frame.PictureRows;
import org.scenespan.frame.RowOrder;
import org.scenespan.frame.ToneResponse;

/**
 * Hands the pixels of a frame on disk to whoever works on whole pictures after a session: a JPEG's
 * own codes, a DNG in linear light and full colour, the JPEG within another raw file. Files are
 * opened for reading only.
 */
public final class FramePixels {
  private static final CodeScale SRGB = CodeScale.of(ToneResponse.srgb(8));

  private FramePixels() {}

  /**
   * @param rows is called by one thread at a time
   * @throws UnreadableFrame if the file is no frame, is damaged, or is of a kind that is not read;
   *     some rows may have been handed over before
   * @throws UncheckedIOException that the rows throw
   */
  public static void read(Path file, PictureRows rows) throws UnreadableFrame {
    try (Bytes bytes = Bytes.open(file)) {
      if (bytes.size() > HotFolder.MAX_FILE_BYTES) {
        throw new UnreadableFrame("the file is bigger than 1 GiB");
      }
      switch (FrameFormat.of(bytes)) {
        case JPEG -> readJpeg(JpegFile.read(bytes), Optional.empty(), rows);
        case TIFF -> readTiff(bytes, rows);
        default -> throw new UnreadableFrame("its pixels are of no kind that is merged");
      }
    } catch (NoSuchFileException e) {
      throw new UnreadableFrame("the file has gone", e);
    } catch (EOFException e) {
      throw new UnreadableFrame("the file ends too early", e);
    } catch (DamagedData e) {
      throw new UnreadableFrame(e.getMessage(), e);
    } catch (IOException e) {
      throw new UnreadableFrame("the file cannot be read: " + e.getMessage(), e);
    } catch (IndexOutOfBoundsException | ArithmeticException | NegativeArraySizeException e) {
      throw new UnreadableFrame("the file makes no sense: " + e, e);
    } catch (OutOfMemoryError e) {
      throw new UnreadableFrame("the file takes more memory than there is", e);
    }
  }

  /**
   * @param outer metadata of the file that the JPEG lies in, which counts
   */
  private static void readJpeg(JpegFile jpeg, Optional<FrameMetadata> outer, PictureRows rows)
      throws IOException, UnreadableFrame {
    FrameMetadata metadata = outer.isPresent() ? outer.get() : metadata(jpeg);
    new QuickJpegDecoder().decode(jpeg, new JpegCodes(metadata, rows));
  }

  private static FrameMetadata metadata(JpegFile jpeg) throws IOException {
    if (jpeg.exif().isEmpty() || jpeg.exif().get().length() - JpegFile.EXIF_OFFSET < 8) {
      return FrameMetadata.NONE;
    }
    int start = (int) jpeg.exif().get().position() + JpegFile.EXIF_OFFSET;
    int length = jpeg.exif().get().length() - JpegFile.EXIF_OFFSET;
    try (ByteArrayImageInputStream input =
        new ByteArrayImageInputStream(jpeg.start(), start, length)) {
      return ExifReader.read(input).metadata();
    }
  }

  private static void readTiff(Bytes bytes, PictureRows rows) throws IOException, UnreadableFrame {
    TiffStructure tiff = TiffStructure.of(bytes);
    FrameMetadata metadata;
    try (BytesImageStream input = new BytesImageStream(bytes)) {
      metadata = ExifReader.read(input).metadata();
    }
    String why = "its pixels are of no kind that is merged";
    Optional<TiffStructure.Directory> sensor = RawPicture.directoryIn(tiff);
    if (sensor.isPresent()) {
      try {
        RawPicture picture = RawPicture.of(sensor.get(), tiff.isBigEndian());
        readRaw(bytes, picture, metadata, rows);
        return;
      } catch (UnreadableFrame otherKind) {
        why = otherKind.getMessage();
      }
    }
    Optional<JpegFile> preview = EmbeddedPreview.largest(tiff, bytes);
    if (preview.isEmpty()) {
      throw new UnreadableFrame(why);
    }
    readJpeg(preview.get(), Optional.of(metadata), rows);
  }

  private static void readRaw(
      Bytes bytes, RawPicture picture, FrameMetadata metadata, PictureRows rows)
      throws IOException, UnreadableFrame {
    RawPicture.Area active = picture.active();
    rows.begin(
        new PictureForm(
            active.width(),
            active.height(),
            false,
            CodeScale.linear16(),
            metadata,
            picture.mosaic()));
    if (picture.mosaic().isPresent()) {
      readMosaic(bytes, picture, rows);
    } else {
      readLinear(bytes, picture, rows);
    }
  }

  private static void readMosaic(Bytes bytes, RawPicture picture, PictureRows rows)
      throws IOException {
    int width = picture.active().width();
    int height = picture.active().height();
    MosaicColour colour = new MosaicColour(picture.mosaic().orElseThrow(), width);
    Bands bands = new Bands(bytes, picture);
    float[] light = new float[width];
    short[] rgb = new short[3 * width];
    for (int y = -1; y <= height; y++) {
      bands.light(y < 0 ? 1 : y == height ? height - 2 : y, light);
      colour.next(light);
      if (y > 0) {
        colour.row(y - 1, rgb);
        rows.row(y - 1, rgb);
      }
    }
  }

  /** A mosaic's light by rows, unpacked a band at a time. */
  private static final class Bands {
    private final RawBands bands;
    private final RawPicture picture;
    private final int[] band;
    private int held = -1;

    Bands(Bytes bytes, RawPicture picture) {
      this.bands = new RawBands(bytes, picture);
      this.picture = picture;
      this.band = new int[bands.mostPairs()];
    }

    void light(int y, float[] light) throws IOException {
      int stored = picture.active().top() + y;
      int wanted = bands.bandOf(stored);
      if (wanted != held) {
        bands.unpack(wanted, band, 0);
        held = wanted;
      }
      int at = (stored - bands.firstRow(wanted)) * bands.stride();
      int left = picture.active().left();
      for (int x = 0; x < light.length; x++) {
        light[x] = lightOf(picture.levels(), RawBands.site(band, at, left + x), y, x, 0);
      }
    }
  }

  /** Light of a code; unlike that of a measurement it goes below 0, so that black stays centred. */
  private static float lightOf(RawLevels levels, int code, int y, int x, int sample) {
    double black = levels.blackAt(y, x, sample);
    return (float) ((code - black) / (levels.white()[sample] - black));
  }

  private static void readLinear(Bytes bytes, RawPicture picture, PictureRows rows)
      throws IOException, UnreadableFrame {
    RawPicture.Area active = picture.active();
    int samples = picture.layout().samples();
    TiffPixels pixels = new TiffPixels(bytes, picture.layout());
    int[] codes = new int[picture.layout().width() * samples];
    short[] rgb = new short[3 * active.width()];
    for (int y = 0; y < active.height(); y++) {
      pixels.row(active.top() + y, codes);
      for (int i = 0; i < rgb.length; i++) {
        int sample = samples == 1 ? 0 : i % 3;
        int code = codes[(active.left() + i / 3) * samples + sample];
        int linear = picture.levels().linearized(code);
        rgb[i] = CodeScale.code16(lightOf(picture.levels(), linear, y, i / 3, sample));
      }
      rows.row(y, rgb);
    }
  }

  /** A JPEG's rows, which come on several threads, as unsigned codes of three channels. */
  private static final class JpegCodes implements RowSink {
    private final FrameMetadata metadata;
    private final PictureRows rows;
    private short[] rgb;

    JpegCodes(FrameMetadata metadata, PictureRows rows) {
      this.metadata = metadata;
      this.rows = rows;
    }

    @Override
    public synchronized void begin(int width, int height) {
      rgb = new short[3 * width];
      rows.begin(new PictureForm(width, height, true, SRGB, metadata));
    }

    @Override
    public Part part() {
      return new Part() {
        @Override
        public void row(int y, int[] pixels) {
          take(y, pixels);
        }

        @Override
        public void above(int y, int[] pixels) {
          // Another part takes it.
        }
      };
    }

    private synchronized void take(int y, int[] pixels) {
      RowOrder order = new RowOrder(rgb.length / 3);
      for (int x = 0; x < order.width(); x++) {
        int pixel = pixels[order.placeOf(x)];
        rgb[3 * x] = (short) PackedPixel.red(pixel);
        rgb[3 * x + 1] = (short) PackedPixel.green(pixel);
        rgb[3 * x + 2] = (short) PackedPixel.blue(pixel);
      }
      rows.row(y, rgb);
    }
  }
}

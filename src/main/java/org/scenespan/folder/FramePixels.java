package org.scenespan.folder;

import com.twelvemonkeys.imageio.stream.ByteArrayImageInputStream;
import java.io.IOException;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.Arrays;
import org.scenespan.frame.CodeScale;
import org.scenespan.frame.FrameMetadata;
import org.scenespan.frame.Mosaic;
import org.scenespan.frame.PictureForm;
import org.scenespan.frame.PictureRows;
import org.scenespan.frame.ToneResponse;

/**
 * Hands the pixels of a file on disk to whoever works on whole pictures after a session: a JPEG's
 * own codes, a DNG's mosaic in full colour. Files are opened for reading only.
 */
public final class FramePixels {
  private static final CodeScale SRGB = CodeScale.of(ToneResponse.srgb(8));

  private FramePixels() {}

  /**
   * @throws UnreadableFrame if the file is no frame, is damaged, or is of a kind that is not read;
   *     some rows may have been handed over before
   */
  public static void read(Path file, PictureRows rows) throws UnreadableFrame {
    try (Bytes bytes = Bytes.open(file)) {
      switch (FrameFormat.of(bytes)) {
        case JPEG -> readJpeg(bytes, rows);
        case TIFF -> readRaw(bytes, rows);
        default -> throw new UnreadableFrame("its pixels are of no kind that is merged");
      }
    } catch (NoSuchFileException e) {
      throw new UnreadableFrame("the file has gone", e);
    } catch (IOException e) {
      throw new UnreadableFrame("the file cannot be read: " + e.getMessage(), e);
    } catch (OutOfMemoryError e) {
      throw new UnreadableFrame("the file takes more memory than there is", e);
    }
  }

  private static void readJpeg(Bytes bytes, PictureRows rows) throws IOException, UnreadableFrame {
    JpegFile jpeg = JpegFile.read(bytes);
    new PlainJpegDecoder().decode(jpeg, new JpegCodes(metadata(jpeg), rows));
  }

  private static FrameMetadata metadata(JpegFile jpeg) throws IOException {
    if (jpeg.exif().isEmpty() || jpeg.exif().get().length() - JpegFile.EXIF_OFFSET < 8) {
      return FrameMetadata.NONE;
    }
    int start = (int) jpeg.exif().get().position() + JpegFile.EXIF_OFFSET;
    int length = jpeg.exif().get().length() - JpegFile.EXIF_OFFSET;
    try (ByteArrayImageInputStream input =
        new ByteArrayImageInputStream(jpeg.bytes(), start, length)) {
      return ExifReader.read(input);
    }
  }

  private static void readRaw(Bytes bytes, PictureRows rows) throws IOException, UnreadableFrame {
    TiffStructure tiff = TiffStructure.of(bytes);
    RawPicture picture = RawPicture.in(tiff);
    FrameMetadata metadata;
    try (BytesImageStream input = new BytesImageStream(bytes)) {
      metadata = ExifReader.read(input);
    }
    int width = picture.active().width();
    int height = picture.active().height();
    RawRows source = new RawRows(bytes, picture, tiff.isBigEndian());
    rows.begin(new PictureForm(width, height, false, CodeScale.linear16(), metadata));
    MosaicColour colour = new MosaicColour(picture.mosaic(), width);
    short[] codes = new short[width];
    short[] rgb = new short[3 * width];
    // Beyond an edge the mosaic is mirrored about its last row, which keeps every site's colour.
    for (int y = -1; y <= height; y++) {
      source.read(y < 0 ? 1 : y == height ? height - 2 : y, codes);
      if (colour.next(codes, y & 1, rgb)) {
        rows.row(rgb);
      }
    }
  }

  /** A JPEG's rows as unsigned codes of three channels. */
  private static final class JpegCodes implements RowSink {
    private final FrameMetadata metadata;
    private final PictureRows rows;
    private boolean grey;
    private short[] rgb;

    JpegCodes(FrameMetadata metadata, PictureRows rows) {
      this.metadata = metadata;
      this.rows = rows;
    }

    @Override
    public void begin(int width, int height, boolean isGrey) {
      grey = isGrey;
      rgb = new short[3 * width];
      rows.begin(new PictureForm(width, height, true, SRGB, metadata));
    }

    @Override
    public void row(byte[] row) {
      for (int i = 0; i < rgb.length; i++) {
        rgb[i] = (short) (row[grey ? i / 3 : i] & 0xff);
      }
      rows.row(rgb);
    }
  }

  /**
   * Full colour from a mosaic: the mean of the nearest sites of each colour, at most four. A mean
   * with a clipped site in it is clipped.
   */
  static final class MosaicColour {
    private final int[] channelOf = new int[Mosaic.SITES];
    private final float[][] light = new float[Mosaic.SITES][];
    private final int width;
    private float[] above;
    private float[] middle;
    private float[] below;
    private int held;
    private final float[] sums = new float[3];
    private final int[] counts = new int[3];

    MosaicColour(Mosaic mosaic, int width) {
      this.width = width;
      this.above = new float[width + 2];
      this.middle = new float[width + 2];
      this.below = new float[width + 2];
      for (int site = 0; site < Mosaic.SITES; site++) {
        channelOf[site] = "RGB".indexOf(mosaic.colours().charAt(site));
        light[site] = new float[1 << mosaic.bits()];
        for (int code = 0; code < light[site].length; code++) {
          double black = mosaic.black().get(site);
          light[site][code] = (float) ((code - black) / (mosaic.white() - black));
        }
      }
    }

    /**
     * Takes the next row of sites.
     *
     * @param parity 0 for an even row of the mosaic, 1 for an odd one
     * @param rgb takes the row before it, once three rows are here
     * @return whether it did
     */
    boolean next(short[] codes, int parity, short[] rgb) {
      float[] free = above;
      above = middle;
      middle = below;
      below = free;
      for (int x = 0; x < width; x++) {
        float[] table = light[2 * parity + (x & 1)];
        below[x + 1] = table[Math.min(codes[x] & 0xffff, table.length - 1)];
      }
      below[0] = below[2];
      below[width + 1] = below[width - 1];
      if (++held < 3) {
        return false;
      }
      for (int x = 0; x < width; x++) {
        pixel(x, 1 - parity, rgb);
      }
      return true;
    }

    private void pixel(int x, int parity, short[] rgb) {
      int own = channelOf[2 * parity + (x & 1)];
      Arrays.fill(sums, 0);
      Arrays.fill(counts, 0);
      take(middle, x, channelOf[2 * parity + (x + 1 & 1)]);
      take(middle, x + 2, channelOf[2 * parity + (x + 1 & 1)]);
      int over = 2 * (1 - parity);
      take(above, x + 1, channelOf[over + (x & 1)]);
      take(below, x + 1, channelOf[over + (x & 1)]);
      int corner = channelOf[over + (x + 1 & 1)];
      if (own != 1) {
        take(above, x, corner);
        take(above, x + 2, corner);
        take(below, x, corner);
        take(below, x + 2, corner);
      }
      sums[own] = middle[x + 1];
      counts[own] = 1;
      for (int channel = 0; channel < 3; channel++) {
        rgb[3 * x + channel] = CodeScale.code16(sums[channel] / counts[channel]);
      }
    }

    private void take(float[] row, int at, int channel) {
      sums[channel] += row[at] >= 1 ? Float.POSITIVE_INFINITY : row[at];
      counts[channel]++;
    }
  }
}

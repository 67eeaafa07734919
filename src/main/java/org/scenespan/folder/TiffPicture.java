package org.scenespan.folder;

import java.io.IOException;
import java.util.Optional;
import org.scenespan.folder.codec.Samples;
import org.scenespan.frame.ColourSpace;

/**
 * A TIFF picture as rows of linear light: grey, colour or palette. Whole numbers are codes of a
 * colour space, sRGB unless a known profile says otherwise; floating-point numbers are linear
 * light, of which 1.0 is saturation. Samples beyond the third, an opacity, are left out.
 */
final class TiffPicture {
  private static final int COLOUR_MAP = 320;

  private final TiffLayout layout;
  private final TiffPixels pixels;
  private final ColourSpace space;
  private final double[] response;
  private final double[] palette;
  private final int[] samples;

  TiffPicture(Bytes bytes, TiffStructure.Directory directory, TiffLayout layout, ColourSpace space)
      throws IOException, UnreadableFrame {
    this.layout = layout;
    this.space = layout.kind() == TiffLayout.Kind.FLOAT ? ColourSpace.LINEAR : space;
    checkKind();
    this.palette = layout.photometric() == TiffLayout.PALETTE ? palette(directory) : new double[0];
    this.response = layout.bits() <= 16 ? response() : new double[0];
    this.pixels = new TiffPixels(bytes, layout);
    this.samples = new int[layout.width() * layout.samples()];
  }

  private void checkKind() throws UnreadableFrame {
    int needed =
        switch (layout.photometric()) {
          case TiffLayout.GREY, TiffLayout.GREY_WHITE_IS_ZERO, TiffLayout.PALETTE -> 1;
          case TiffLayout.RGB -> 3;
          case -1 -> throw new UnreadableFrame("it does not say what its samples mean");
          case 5 -> throw new UnreadableFrame("its samples are inks (CMYK), not light");
          case 6 -> throw new UnreadableFrame("its samples are YCbCr, which is not read in TIFF");
          case 8, 9, 10 -> throw new UnreadableFrame("its samples are CIE L*a*b*");
          default -> throw new UnreadableFrame("its samples mean kind " + layout.photometric());
        };
    if (layout.samples() < needed) {
      throw new UnreadableFrame("it has " + layout.samples() + " samples to a colour pixel");
    }
    boolean indexed = layout.photometric() == TiffLayout.PALETTE;
    if (indexed && (layout.bits() > 16 || layout.kind() == TiffLayout.Kind.FLOAT)) {
      throw new UnreadableFrame("it has a palette of " + layout.bits() + " bits");
    }
  }

  /** TIFF 6.0: all reds, then all greens, then all blues, of 16 bits. */
  private double[] palette(TiffStructure.Directory directory) throws IOException, UnreadableFrame {
    double[] map = directory.numbers(COLOUR_MAP);
    int colours = 1 << layout.bits();
    if (map.length < 3 * colours) {
      throw new UnreadableFrame("its palette has " + map.length + " values");
    }
    double most = 0;
    for (int i = 0; i < 3 * colours; i++) {
      most = Math.max(most, map[i]);
    }
    // Some writers put codes of 8 bits where 16 are asked for.
    double full = most < 256 && most > 0 ? 255 : 65535;
    double[] light = new double[3 * colours];
    for (int i = 0; i < colours; i++) {
      for (int channel = 0; channel < 3; channel++) {
        light[3 * i + channel] = space.linear(map[channel * colours + i] / full);
      }
    }
    return light;
  }

  private double[] response() {
    double[] light = new double[1 << layout.bits()];
    for (int code = 0; code < light.length; code++) {
      light[code] = light(code);
    }
    return light;
  }

  private double light(int code) {
    if (layout.kind() == TiffLayout.Kind.FLOAT) {
      double value =
          switch (layout.bits()) {
            case 16 -> Samples.half(code);
            case 24 -> Samples.threeByteFloat(code);
            default -> Float.intBitsToFloat(code);
          };
      return layout.photometric() == TiffLayout.GREY_WHITE_IS_ZERO ? 1 - value : value;
    }
    double encoded = Integer.toUnsignedLong(code) / (Math.pow(2, layout.bits()) - 1);
    return space.linear(
        layout.photometric() == TiffLayout.GREY_WHITE_IS_ZERO ? 1 - encoded : encoded);
  }

  ColourSpace space() {
    return space;
  }

  int channels() {
    return layout.photometric() == TiffLayout.RGB || layout.photometric() == TiffLayout.PALETTE
        ? 3
        : 1;
  }

  /**
   * @param light takes the channels of each pixel
   */
  void row(int y, double[] light) throws IOException {
    pixels.row(y, samples);
    int step = layout.samples();
    int channels = channels();
    for (int x = 0; x < layout.width(); x++) {
      int first = samples[x * step];
      if (palette.length > 0) {
        System.arraycopy(palette, 3 * first, light, 3 * x, 3);
        continue;
      }
      for (int channel = 0; channel < channels; channel++) {
        int code = samples[x * step + channel];
        light[x * channels + channel] = response.length > 0 ? response[code] : light(code);
      }
    }
  }

  /** The directory of the picture itself: the first that is no reduced one, else the first. */
  static Optional<TiffStructure.Directory> directoryIn(TiffStructure tiff)
      throws IOException, UnreadableFrame {
    TiffStructure.Directory first = null;
    for (TiffStructure.Directory directory : tiff.directories()) {
      if (!directory.has(TiffLayout.IMAGE_WIDTH)) {
        continue;
      }
      if ((directory.whole(TiffLayout.NEW_SUBFILE_TYPE, 0) & 1) == 0) {
        return Optional.of(directory);
      }
      first = first == null ? directory : first;
    }
    return Optional.ofNullable(first);
  }
}

package org.scenespan.folder;

import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.ByteOrder;
import java.util.Arrays;
import java.util.Random;
import javax.imageio.ImageIO;
import javax.imageio.stream.MemoryCacheImageOutputStream;

/** Small real JPEG and DNG files for tests. */
final class Pictures {
  private Pictures() {}

  /** A colour JPEG with some texture; the same seed gives the same file. */
  static byte[] jpeg(int width, int height, int seed) {
    BufferedImage image = new BufferedImage(width, height, BufferedImage.TYPE_INT_RGB);
    Random random = new Random(seed);
    for (int y = 0; y < height; y++) {
      for (int x = 0; x < width; x++) {
        int base = (x * 200 / width + y * 40 / height + random.nextInt(16));
        image.setRGB(x, y, base << 16 | (base / 2) << 8 | (255 - base));
      }
    }
    return encoded(image);
  }

  static byte[] encoded(BufferedImage image) {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    try (MemoryCacheImageOutputStream out = new MemoryCacheImageOutputStream(bytes)) {
      ImageIO.write(image, "jpeg", out);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    return bytes.toByteArray();
  }

  /** A JPEG with Exif put in front of its other segments. */
  static byte[] withExif(byte[] jpeg, byte[] tiff) {
    int length = tiff.length + 8;
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    out.write(jpeg, 0, 2);
    out.writeBytes(new byte[] {(byte) 0xff, (byte) 0xe1, (byte) (length >> 8), (byte) length});
    out.writeBytes(new byte[] {'E', 'x', 'i', 'f', 0, 0});
    out.writeBytes(tiff);
    out.write(jpeg, 2, jpeg.length - 2);
    return out.toByteArray();
  }

  /** The main directory of a DNG of 14-bit codes in 16-bit words, black 512, white 16383. */
  static TiffBytes dng(ByteOrder order, int[][] sites) {
    int height = sites.length;
    int width = sites[0].length;
    return new TiffBytes(order)
        .longs(254, 0)
        .longs(256, width)
        .longs(257, height)
        .shorts(258, 16)
        .shorts(259, 1)
        .shorts(262, 32803)
        .data(273, packed(sites, 16, order))
        .shorts(277, 1)
        .longs(278, height)
        .longs(279, (long) width * height * 2)
        .shorts(33421, 2, 2)
        .bytes(33422, 0, 1, 1, 2)
        .bytes(50706, 1, 4, 0, 0)
        .shorts(50714, 512)
        .longs(50717, 16383);
  }

  /** Codes as a TIFF stores them: words in the file's order, else packed from the highest bit. */
  static byte[] packed(int[][] sites, int bits, ByteOrder order) {
    int bytesPerRow = (sites[0].length * bits + 7) / 8;
    byte[] bytes = new byte[bytesPerRow * sites.length];
    for (int y = 0; y < sites.length; y++) {
      for (int x = 0; x < sites[y].length; x++) {
        int start = y * bytesPerRow * 8 + x * bits;
        for (int bit = 0; bit < bits; bit++) {
          boolean low = bits == 16 && order == ByteOrder.LITTLE_ENDIAN;
          int place = low ? bit ^ 8 : bit;
          if ((sites[y][x] >> bits - 1 - place & 1) == 1) {
            bytes[start + bit >> 3] |= (byte) (0x80 >> (start + bit & 7));
          }
        }
      }
    }
    return bytes;
  }

  static int[][] sites(int width, int height, int most, int seed) {
    Random random = new Random(seed);
    int[][] sites = new int[height][width];
    for (int[] row : sites) {
      Arrays.setAll(row, x -> Math.min(most, (int) Math.exp(random.nextDouble() * 11)));
    }
    return sites;
  }
}

package org.scenespan.dashboard;

import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.util.Iterator;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import javax.imageio.ImageIO;
import javax.imageio.ImageReadParam;
import javax.imageio.ImageReader;
import javax.imageio.stream.MemoryCacheImageInputStream;

/**
 * Previews made smaller for a strip of frames, cut when they are asked for; the latest are kept.
 * Asked from many threads, it cuts one at a time: a strip that is swiped through must not take the
 * processors from the frames that land.
 */
final class SmallPictures implements Pictures {
  /** The longer side is between this and twice of it, pixels. */
  static final int LEAST_SIDE = 160;

  /** Small pictures that are kept: about 2 MB. */
  static final int MOST_KEPT = 256;

  private final Pictures whole;
  private final Map<String, byte[]> kept =
      new LinkedHashMap<>(16, 0.75f, true) {
        private static final long serialVersionUID = 1L;

        @Override
        protected boolean removeEldestEntry(Map.Entry<String, byte[]> eldest) {
          return size() > MOST_KEPT;
        }
      };

  SmallPictures(Pictures whole) {
    this.whole = whole;
  }

  /** Empty too where the picture is none that can be made smaller. */
  @Override
  public synchronized Optional<byte[]> named(String name) {
    byte[] before = kept.get(name);
    if (before != null) {
      return Optional.of(before);
    }
    Optional<byte[]> cut = whole.named(name).flatMap(SmallPictures::smaller);
    cut.ifPresent(bytes -> kept.put(name, bytes));
    return cut;
  }

  private static Optional<byte[]> smaller(byte[] picture) {
    Iterator<ImageReader> readers = ImageIO.getImageReadersByFormatName("jpeg");
    if (!readers.hasNext()) {
      return Optional.empty();
    }
    ImageReader reader = readers.next();
    try (MemoryCacheImageInputStream input =
        new MemoryCacheImageInputStream(new ByteArrayInputStream(picture))) {
      reader.setInput(input, true, true);
      int side = Math.max(reader.getWidth(0), reader.getHeight(0));
      int step = Math.max(1, side / LEAST_SIDE);
      ImageReadParam every = reader.getDefaultReadParam();
      every.setSourceSubsampling(step, step, step / 2, step / 2);
      BufferedImage small = reader.read(0, every);
      ByteArrayOutputStream out = new ByteArrayOutputStream();
      return ImageIO.write(small, "jpeg", out) ? Optional.of(out.toByteArray()) : Optional.empty();
    } catch (IOException | RuntimeException none) {
      return Optional.empty();
    } finally {
      reader.dispose();
    }
  }
}

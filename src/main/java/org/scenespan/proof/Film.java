package org.scenespan.proof;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.jcodec.common.io.NIOUtils;
import org.jcodec.common.io.SeekableByteChannel;
import org.scenespan.frame.ToneResponse;
import org.scenespan.light.Stops;

/**
 * A lapse as a small film with its flicker evened out: each frame reduced, brightened or darkened
 * by its evening gain in linear light, and written as H.264 in an MP4 file.
 */
final class Film {
  /** Pixels across. */
  static final int WIDTH = 1280;

  private static final byte[] SRGB = new byte[1 << 14];

  static {
    for (int i = 0; i < SRGB.length; i++) {
      double light = (double) i / (SRGB.length - 1);
      SRGB[i] = (byte) Math.round(255 * ToneResponse.linearToSrgb(light));
    }
  }

  private final PictureReader reader;
  private final Progress progress;

  /**
   * A frame of the film.
   *
   * @param file to be read
   * @param gain the light to add
   */
  record Frame(Path file, Stops gain) {}

  /**
   * What became of it.
   *
   * @param frames in the film
   * @param skipped files that could not be read or have another shape, a sentence each
   */
  record Made(int frames, List<String> skipped) {
    Made {
      skipped = List.copyOf(skipped);
    }
  }

  Film(PictureReader reader, Progress progress) {
    this.reader = reader;
    this.progress = progress;
  }

  /**
   * @param rate frames a second
   * @throws IOException if the film cannot be written, or has no frame
   */
  Made write(List<Frame> frames, Path file, int rate) throws IOException {
    List<String> skipped = new ArrayList<>();
    int made = 0;
    int[] shape = null;
    SeekableByteChannel out = NIOUtils.writableFileChannel(file.toString());
    try {
      FilmWriter film = new FilmWriter(out, rate);
      for (int i = 0; i < frames.size(); i++) {
        progress.at("film", (double) i / frames.size());
        Optional<ReducedPicture> small = read(frames.get(i).file(), skipped);
        if (small.isEmpty()) {
          continue;
        }
        int[] its = {small.get().columns(), small.get().lines()};
        if (shape == null) {
          shape = its;
        }
        if (its[0] != shape[0] || its[1] != shape[1]) {
          skipped.add(frames.get(i).file().getFileName() + " has another shape than the first");
          continue;
        }
        film.add(codes(small.get(), frames.get(i).gain()), its[0], its[1]);
        made++;
      }
      if (made == 0) {
        throw new IOException("no frame of the lapse can be read: " + String.join("; ", skipped));
      }
      film.finish();
    } finally {
      NIOUtils.closeQuietly(out);
    }
    return new Made(made, skipped);
  }

  private Optional<ReducedPicture> read(Path file, List<String> skipped) {
    ReducedPicture small = new ReducedPicture(WIDTH);
    try {
      reader.read(file, small);
      return Optional.of(small);
    } catch (IOException unreadable) {
      skipped.add(file.getFileName() + " is left out: " + unreadable.getMessage());
      return Optional.empty();
    }
  }

  /** sRGB codes of each pixel, with the gain. */
  private static byte[] codes(ReducedPicture small, Stops gain) {
    double[] light = small.light();
    byte[] codes = new byte[light.length];
    double factor = gain.ratio();
    for (int i = 0; i < codes.length; i++) {
      double bounded = Math.max(0, Math.min(1, light[i] * factor));
      codes[i] = SRGB[(int) (bounded * (SRGB.length - 1) + 0.5)];
    }
    return codes;
  }
}

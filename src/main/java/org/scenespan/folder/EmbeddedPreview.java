package org.scenespan.folder;

import java.io.EOFException;
import java.io.IOException;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/**
 * The JPEGs that a raw file of TIFF's structure carries (ISO 12234-2, TIFF/EP, and Exif's way of
 * keeping a thumbnail), found in its directories.
 */
final class EmbeddedPreview {
  private static final int OLD_JPEG = 6;
  private static final int JPEG_OFFSET = 513;
  private static final int JPEG_BYTES = 514;

  private EmbeddedPreview() {}

  /**
   * The JPEG with the most pixels, of those that are whole and can be decoded by their header.
   *
   * @return nothing where there is none
   */
  static Optional<JpegFile> largest(TiffStructure tiff, Bytes bytes)
      throws IOException, UnreadableFrame {
    List<JpegFile> found = new ArrayList<>();
    for (TiffStructure.Directory directory : tiff.directories()) {
      long[] place = place(directory);
      if (place[1] <= 0 || place[1] > JpegFile.MAX_JPEG_BYTES) {
        continue;
      }
      try {
        Bytes part = bytes.part(place[0], place[1]);
        if (FrameFormat.of(part) == FrameFormat.JPEG && isForEyes(part)) {
          found.add(JpegFile.read(part));
        }
      } catch (UnreadableFrame | EOFException e) {
        // Raw data in lossless JPEG, or a damaged one: another may do.
        continue;
      }
    }
    return found.stream()
        .max(
            Comparator.comparingLong(
                jpeg -> (long) jpeg.structure().width() * jpeg.structure().height()));
  }

  /** Where a directory's JPEG begins and how long it is; a length of 0 where there is none. */
  private static long[] place(TiffStructure.Directory directory)
      throws IOException, UnreadableFrame {
    if (directory.has(JPEG_OFFSET)) {
      return new long[] {directory.whole(JPEG_OFFSET, 0), directory.whole(JPEG_BYTES, 0)};
    }
    long compression = directory.whole(TiffLayout.COMPRESSION, 0);
    double[] offsets = directory.numbers(TiffStructure.STRIP_OFFSETS);
    boolean jpeg = compression == OLD_JPEG || compression == TiffLayout.JPEG;
    if (!jpeg || offsets.length != 1) {
      return new long[2];
    }
    return new long[] {(long) offsets[0], directory.whole(TiffStructure.STRIP_BYTES, 0)};
  }

  /** Whether its start of frame is of a kind that the decoders read: not a lossless one. */
  private static boolean isForEyes(Bytes part) throws IOException, UnreadableFrame {
    for (JpegStructure.Segment segment : JpegStructure.of(part).header()) {
      int marker = segment.marker();
      if (marker >= 0xc0 && marker <= 0xcf && marker != 0xc4 && marker != 0xc8 && marker != 0xcc) {
        return marker <= 0xc2;
      }
    }
    return false;
  }
}

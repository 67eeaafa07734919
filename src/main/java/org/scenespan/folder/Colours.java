package org.scenespan.folder;

import java.io.IOException;
import java.util.List;
import java.util.Optional;
import org.scenespan.frame.ColourSpace;

/**
 * By which colour space a file's codes are taken.
 *
 * @param notes what is not certain about it
 */
record Colours(ColourSpace space, List<String> notes) {
  static final Colours UNKNOWN_PROFILE =
      new Colours(
          ColourSpace.ASSUMED_SRGB,
          List.of("Its colour profile is none that is known: taken as sRGB."));

  private static final Colours UNCALIBRATED =
      new Colours(
          ColourSpace.ASSUMED_SRGB,
          List.of("Its Exif says that its colours are not sRGB, not which: taken as sRGB."));

  private static final int APP2 = 0xe2;
  private static final String PROFILE_NAME = "ICC_PROFILE";

  /** Name, zero, number of the part and count of parts (ICC.1:2022, annex B.4). */
  private static final int PART_HEAD = 4 + 12 + 2;

  private static final int MAX_PARTS = 255;

  static Colours known(ColourSpace space) {
    return new Colours(space, List.of());
  }

  /** The embedded profile goes before Exif, Exif before the custom of sRGB. */
  static Colours of(JpegFile jpeg, Optional<ExifReader.Colour> exif) {
    byte[] profile = profile(jpeg);
    if (profile.length > 0) {
      return IccProfile.recognised(profile).map(Colours::known).orElse(UNKNOWN_PROFILE);
    }
    return exif.map(
            colour ->
                switch (colour) {
                  case ADOBE_RGB -> known(ColourSpace.ADOBE_RGB);
                  case SRGB -> known(ColourSpace.SRGB);
                  case UNCALIBRATED -> UNCALIBRATED;
                })
        .orElse(known(ColourSpace.SRGB));
  }

  /** A TIFF's profile; sRGB where it has none. */
  static Colours of(TiffStructure.Directory directory) throws IOException, UnreadableFrame {
    Optional<byte[]> profile = directory.raw(TiffStructure.ICC_PROFILE);
    if (profile.isEmpty()) {
      return known(ColourSpace.SRGB);
    }
    return IccProfile.recognised(profile.get()).map(Colours::known).orElse(UNKNOWN_PROFILE);
  }

  /** The parts of the profile put together in their order; empty where there is none. */
  private static byte[] profile(JpegFile jpeg) {
    byte[] bytes = jpeg.start();
    JpegStructure.Segment[] parts = new JpegStructure.Segment[MAX_PARTS + 1];
    int length = 0;
    for (JpegStructure.Segment segment : jpeg.structure().header()) {
      if (segment.marker() != APP2 || segment.length() < PART_HEAD) {
        continue;
      }
      int at = (int) segment.position() + 4;
      String name =
          new String(bytes, at, PROFILE_NAME.length(), java.nio.charset.StandardCharsets.US_ASCII);
      int number = bytes[at + 12] & 0xff;
      if (name.equals(PROFILE_NAME) && bytes[at + 11] == 0 && parts[number] == null) {
        parts[number] = segment;
        length += segment.length() - PART_HEAD;
      }
    }
    byte[] profile = new byte[length];
    int to = 0;
    for (JpegStructure.Segment part : parts) {
      if (part != null) {
        int size = part.length() - PART_HEAD;
        System.arraycopy(bytes, (int) part.position() + PART_HEAD, profile, to, size);
        to += size;
      }
    }
    return profile;
  }
}

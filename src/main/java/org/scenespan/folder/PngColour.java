package org.scenespan.folder;

import java.io.IOException;
import java.util.List;
import java.util.Optional;
import java.util.zip.DataFormatException;
import java.util.zip.Inflater;
import org.scenespan.frame.ColourSpace;

/**
 * What a PNG says of its colours, the most exact word first (W3C PNG, third edition, section
 * 13.14): cICP, iCCP, sRGB, gAMA.
 */
final class PngColour {
  private static final int MAX_PROFILE_BYTES = 1 << 22;
  private static final int GAMMA_OF_SRGB = 45455;

  private PngColour() {}

  static Colours of(PngPicture png, Bytes bytes) throws IOException {
    Optional<PngPicture.Chunk> cicp = chunk(png, "cICP");
    if (cicp.isPresent() && cicp.get().length() == 4) {
      return codePoints(bytes.u8(cicp.get().position()), bytes.u8(cicp.get().position() + 1));
    }
    Optional<PngPicture.Chunk> profile = chunk(png, "iCCP");
    if (profile.isPresent()) {
      return IccProfile.recognised(inflated(profile.get(), bytes))
          .map(Colours::known)
          .orElse(Colours.UNKNOWN_PROFILE);
    }
    Optional<PngPicture.Chunk> gamma = chunk(png, "gAMA");
    if (chunk(png, "sRGB").isPresent() || gamma.isEmpty() || gamma.get().length() != 4) {
      return Colours.known(ColourSpace.SRGB);
    }
    long value =
        (long) bytes.u16(gamma.get().position()) << 16 | bytes.u16(gamma.get().position() + 2);
    if (value == GAMMA_OF_SRGB) {
      return Colours.known(ColourSpace.SRGB);
    }
    if (!(value >= 10_000 && value <= 1_000_000)) {
      return new Colours(
          ColourSpace.ASSUMED_SRGB, List.of("Its gAMA makes no sense: taken as sRGB."));
    }
    return value == 100_000
        ? Colours.known(ColourSpace.LINEAR)
        : Colours.known(ColourSpace.SRGB.withPower(100_000.0 / value).named("gamma"));
  }

  /** ITU-T H.273's numbers of primaries and transfers. */
  private static Colours codePoints(int primaries, int transfer) {
    boolean srgb = transfer == 13;
    if (primaries == 1 && (srgb || transfer == 8)) {
      return Colours.known(srgb ? ColourSpace.SRGB : ColourSpace.LINEAR);
    }
    if (primaries == 12 && srgb) {
      return Colours.known(ColourSpace.DISPLAY_P3);
    }
    return new Colours(
        ColourSpace.ASSUMED_SRGB,
        List.of(
            "Its colours (cICP "
                + primaries
                + ", "
                + transfer
                + ") are not known: taken as sRGB."));
  }

  private static Optional<PngPicture.Chunk> chunk(PngPicture png, String name) {
    int type = 0;
    for (char c : name.toCharArray()) {
      type = type << 8 | c;
    }
    int wanted = type;
    return png.chunks().stream().filter(chunk -> chunk.type() == wanted).findFirst();
  }

  /** Exif, from its TIFF header on. */
  static Optional<PngPicture.Chunk> exif(PngPicture png) {
    return chunk(png, "eXIf");
  }

  /** A name, a zero, a zero for the method, and the profile deflated; empty where damaged. */
  private static byte[] inflated(PngPicture.Chunk chunk, Bytes bytes) throws IOException {
    byte[] packed = new byte[Math.min(chunk.length(), MAX_PROFILE_BYTES)];
    bytes.read(chunk.position(), packed, 0, packed.length);
    int name = 0;
    while (name < packed.length && packed[name] != 0) {
      name++;
    }
    Inflater inflater = new Inflater();
    try {
      byte[] profile = new byte[MAX_PROFILE_BYTES / 4];
      int start = Math.min(packed.length, name + 2);
      inflater.setInput(packed, start, packed.length - start);
      int length = inflater.inflate(profile);
      return java.util.Arrays.copyOf(profile, length);
    } catch (DataFormatException e) {
      return new byte[0];
    } finally {
      inflater.end();
    }
  }
}

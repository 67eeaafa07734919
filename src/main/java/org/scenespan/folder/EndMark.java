package org.scenespan.folder;

import java.io.EOFException;
import java.io.IOException;
import java.nio.file.Path;
import java.util.Optional;

/** Tells whether a file has come to its format's own end. */
final class EndMark {
  private static final int IEND = 0x49454e44;

  private EndMark() {}

  /**
   * What a file lacks to be whole; nothing where it is whole. A raw format that has no end mark
   * known here is whole as soon as it is not empty.
   *
   * @throws IOException if the file cannot be opened or read
   */
  static Optional<String> missing(Path file, FrameName name) throws IOException {
    try (Bytes bytes = Bytes.open(file)) {
      if (bytes.size() == 0) {
        return Optional.of("it is empty");
      }
      return switch (FrameFormat.of(bytes)) {
        case JPEG ->
            JpegStructure.of(bytes).isWhole()
                ? Optional.empty()
                : Optional.of("the JPEG's end mark is missing");
        case TIFF -> {
          TiffStructure.of(bytes);
          yield Optional.empty();
        }
        case PNG -> missingInPng(bytes);
        case RADIANCE -> {
          RadianceReading.parsed(bytes);
          yield Optional.empty();
        }
        case UNKNOWN ->
            name.kind() == FrameName.Kind.RAW && !name.isDng()
                ? Optional.empty()
                : Optional.of("its first bytes are not those of a picture");
      };
    } catch (UnreadableFrame e) {
      return Optional.of(e.getMessage());
    } catch (EOFException e) {
      return Optional.of("the file ends too early");
    }
  }

  /** PNG (ISO/IEC 15948): the last chunk is IEND. */
  private static Optional<String> missingInPng(Bytes bytes) throws IOException {
    long position = 8;
    while (position + 12 <= bytes.size()) {
      long length = (long) bytes.u16(position) << 16 | bytes.u16(position + 2);
      int type = bytes.u16(position + 4) << 16 | bytes.u16(position + 6);
      if (type == IEND) {
        return Optional.empty();
      }
      position += 12 + length;
    }
    return Optional.of("the PNG's end mark is missing");
  }
}

package org.scenespan.folder;

import java.util.Locale;
import java.util.Optional;
import java.util.Set;

/**
 * A file name that may be a frame's.
 *
 * @param file the whole name
 * @param stem the name without its extension: the same for raw and JPEG of one shutter press
 * @param kind what the extension promises
 */
record FrameName(String file, String stem, Kind kind) {
  /** What a name's extension promises. */
  enum Kind {
    JPEG,
    RAW,
    OTHER
  }

  private static final Set<String> JPEGS = Set.of("jpg", "jpeg", "jpe");
  private static final Set<String> OTHERS = Set.of("tif", "tiff", "png", "hdr");
  private static final Set<String> RAWS =
      Set.of(
          "dng", "gpr", "nef", "nrw", "cr2", "cr3", "crw", "arw", "sr2", "srf", "raf", "orf", "rw2",
          "rwl", "pef", "srw", "3fr", "fff", "iiq", "mos", "mrw", "kdc", "dcr", "erf", "x3f",
          "raw");

  /** Nothing where the name is hidden, temporary or no picture's. */
  static Optional<FrameName> of(String file) {
    int dot = file.lastIndexOf('.');
    if (dot <= 0 || file.startsWith(".") || file.startsWith("~") || file.endsWith("~")) {
      return Optional.empty();
    }
    String extension = file.substring(dot + 1).toLowerCase(Locale.ROOT);
    Kind kind;
    if (JPEGS.contains(extension)) {
      kind = Kind.JPEG;
    } else if (RAWS.contains(extension)) {
      kind = Kind.RAW;
    } else if (OTHERS.contains(extension)) {
      kind = Kind.OTHER;
    } else {
      return Optional.empty();
    }
    return Optional.of(new FrameName(file, file.substring(0, dot), kind));
  }

  /** Whether a name promises raw data. */
  static boolean isRaw(String file) {
    return of(file).map(name -> name.kind == Kind.RAW).orElse(false);
  }

  boolean isDng() {
    return file.toLowerCase(Locale.ROOT).endsWith(".dng");
  }
}

package org.scenespan.folder;

import com.twelvemonkeys.imageio.metadata.Directory;
import com.twelvemonkeys.imageio.metadata.Entry;
import com.twelvemonkeys.imageio.metadata.tiff.TIFFReader;
import java.io.IOException;
import java.time.DateTimeException;
import java.time.LocalDateTime;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.time.format.ResolverStyle;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.DoubleFunction;
import javax.imageio.stream.ImageInputStream;
import org.scenespan.frame.Automatics;
import org.scenespan.frame.CaptureTime;
import org.scenespan.frame.FrameMetadata;
import org.scenespan.light.Aperture;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;
import org.scenespan.light.Stops;

/**
 * Reads how a frame was taken from Exif (CIPA DC-008, tags by its numbers). Nonsense is absent, and
 * Exif that cannot be read is no Exif: a frame's pixels count without it.
 */
final class ExifReader {
  private static final int MODEL = 272;
  private static final int ORIENTATION = 274;
  private static final int EXPOSURE_TIME = 33434;
  private static final int F_NUMBER = 33437;
  private static final int EXIF_DIRECTORY = 34665;
  private static final int PHOTOGRAPHIC_SENSITIVITY = 34855;
  private static final int EXPOSURE_PROGRAM = 34850;
  private static final int SENSITIVITY_TYPE = 34864;
  private static final int STANDARD_OUTPUT_SENSITIVITY = 34865;
  private static final int RECOMMENDED_EXPOSURE_INDEX = 34866;
  private static final int ISO_SPEED = 34867;
  private static final int DATE_TIME_ORIGINAL = 36867;
  private static final int OFFSET_TIME_ORIGINAL = 36881;
  private static final int SHUTTER_SPEED_VALUE = 37377;
  private static final int APERTURE_VALUE = 37378;
  private static final int EXPOSURE_BIAS_VALUE = 37380;
  private static final int SUB_SEC_TIME_ORIGINAL = 37521;
  private static final int COLOR_SPACE = 40961;
  private static final int EXPOSURE_MODE = 41986;
  private static final int WHITE_BALANCE = 41987;
  private static final int INTEROPERABILITY_DIRECTORY = 40965;
  private static final int INTEROPERABILITY_INDEX = 1;

  /** The 16-bit tag says that the sensitivity does not fit into it. */
  private static final double SENSITIVITY_ELSEWHERE = 65535;

  /** No camera's dial goes further; a bigger value is nonsense. */
  private static final double MAX_COMPENSATION_STOPS = 20;

  private static final DateTimeFormatter DATE_TIME =
      DateTimeFormatter.ofPattern("uuuu:MM:dd HH:mm:ss").withResolverStyle(ResolverStyle.STRICT);

  private final Directory top;
  private final Directory exif;

  private ExifReader(Directory top) {
    this.top = top;
    Entry entry = top.getEntryById(EXIF_DIRECTORY);
    // A raw file after TIFF/EP (ISO 12234-2) has the tags in its first directory.
    this.exif = entry != null && entry.getValue() instanceof Directory inner ? inner : top;
  }

  /** What Exif says of a file's colours. */
  enum Colour {
    SRGB,
    ADOBE_RGB,
    UNCALIBRATED
  }

  /**
   * All that is read of it.
   *
   * @param colour nothing where it does not say
   */
  record Exif(FrameMetadata metadata, Optional<Colour> colour) {
    static final Exif NONE = new Exif(FrameMetadata.NONE, Optional.empty());
  }

  /**
   * @param input from the TIFF header on
   */
  static Exif read(ImageInputStream input) {
    try {
      ExifReader reader = new ExifReader(new TIFFReader().read(input));
      return new Exif(reader.metadata(), reader.colour());
    } catch (IOException | RuntimeException e) {
      return Exif.NONE;
    }
  }

  /**
   * CIPA DC-008: ColorSpace is 1 or "uncalibrated"; with interoperability index R03 (DCF optional
   * file) that is Adobe RGB. Some cameras write 2 for it.
   */
  private Optional<Colour> colour() {
    OptionalDouble space = number(COLOR_SPACE);
    if (space.isEmpty()) {
      return Optional.empty();
    }
    if (space.getAsDouble() == 1) {
      return Optional.of(Colour.SRGB);
    }
    Entry entry = exif.getEntryById(INTEROPERABILITY_DIRECTORY);
    boolean optional =
        entry != null
            && entry.getValue() instanceof Directory inner
            && inner.getEntryById(INTEROPERABILITY_INDEX) != null
            && String.valueOf(inner.getEntryById(INTEROPERABILITY_INDEX).getValue())
                .startsWith("R03");
    return Optional.of(
        optional || space.getAsDouble() == 2 ? Colour.ADOBE_RGB : Colour.UNCALIBRATED);
  }

  private FrameMetadata metadata() {
    int orientation = (int) number(ORIENTATION).orElse(1);
    return new FrameMetadata(
        shutter(),
        aperture(),
        iso(),
        compensation(),
        capturedAt(),
        orientation >= 1 && orientation <= 8 ? orientation : 1,
        text(MODEL),
        new Automatics(automaticExposure(), automaticWhiteBalance()));
  }

  /**
   * CIPA DC-008: ExposureMode is 0 automatic, 1 manual, 2 automatic bracket; ExposureProgram is 1
   * manual and 2 to 8 one of the automatic ones, 0 not defined.
   */
  private Optional<Boolean> automaticExposure() {
    int mode = (int) number(EXPOSURE_MODE).orElse(-1);
    if (mode >= 0 && mode <= 2) {
      return Optional.of(mode != 1);
    }
    int program = (int) number(EXPOSURE_PROGRAM).orElse(0);
    return program >= 1 && program <= 8 ? Optional.of(program != 1) : Optional.empty();
  }

  /** CIPA DC-008: WhiteBalance is 0 automatic, 1 manual. */
  private Optional<Boolean> automaticWhiteBalance() {
    int balance = (int) number(WHITE_BALANCE).orElse(-1);
    return balance == 0 || balance == 1 ? Optional.of(balance == 0) : Optional.empty();
  }

  private Optional<Shutter> shutter() {
    Optional<Shutter> time = of(number(EXPOSURE_TIME), Shutter::ofNominal);
    return time.isPresent()
        ? time
        : of(number(SHUTTER_SPEED_VALUE), tv -> Shutter.ofNominal(Math.pow(2, -tv)));
  }

  private Optional<Aperture> aperture() {
    Optional<Aperture> number = of(number(F_NUMBER), Aperture::ofNominal);
    return number.isPresent()
        ? number
        : of(number(APERTURE_VALUE), av -> Aperture.ofNominal(Math.pow(2, av / 2)));
  }

  private Optional<Iso> iso() {
    OptionalDouble short16 = number(PHOTOGRAPHIC_SENSITIVITY);
    if (short16.isPresent() && short16.getAsDouble() != SENSITIVITY_ELSEWHERE) {
      Optional<Iso> iso = of(short16, Iso::ofNominal);
      if (iso.isPresent()) {
        return iso;
      }
    }
    // CIPA DC-008, SensitivityType: 1 and 4, 5, 7 name the output sensitivity first; 2 and 6 the
    // exposure index; 3 the ISO speed.
    int[] order =
        switch ((int) number(SENSITIVITY_TYPE).orElse(0)) {
          case 2, 6 ->
              new int[] {RECOMMENDED_EXPOSURE_INDEX, STANDARD_OUTPUT_SENSITIVITY, ISO_SPEED};
          case 3 -> new int[] {ISO_SPEED, STANDARD_OUTPUT_SENSITIVITY, RECOMMENDED_EXPOSURE_INDEX};
          default -> new int[] {STANDARD_OUTPUT_SENSITIVITY, RECOMMENDED_EXPOSURE_INDEX, ISO_SPEED};
        };
    for (int tag : order) {
      Optional<Iso> iso = of(number(tag), Iso::ofNominal);
      if (iso.isPresent()) {
        return iso;
      }
    }
    return Optional.empty();
  }

  private Optional<Stops> compensation() {
    OptionalDouble stops = number(EXPOSURE_BIAS_VALUE);
    return stops.isPresent() && Math.abs(stops.getAsDouble()) <= MAX_COMPENSATION_STOPS
        ? Optional.of(new Stops(stops.getAsDouble()))
        : Optional.empty();
  }

  private Optional<CaptureTime> capturedAt() {
    Optional<String> written = text(DATE_TIME_ORIGINAL);
    if (written.isEmpty()) {
      return Optional.empty();
    }
    try {
      LocalDateTime local = LocalDateTime.parse(written.get(), DATE_TIME);
      if (local.getYear() < 1) {
        return Optional.empty();
      }
      Optional<String> parts = text(SUB_SEC_TIME_ORIGINAL).filter(t -> t.matches("\\d{1,9}"));
      if (parts.isPresent()) {
        String nanoseconds = (parts.get() + "000000000").substring(0, 9);
        local = local.withNano(Integer.parseInt(nanoseconds));
      }
      return Optional.of(new CaptureTime(local, offset(), parts.isPresent()));
    } catch (DateTimeException e) {
      return Optional.empty();
    }
  }

  private Optional<ZoneOffset> offset() {
    try {
      return text(OFFSET_TIME_ORIGINAL).map(ZoneOffset::of);
    } catch (DateTimeException e) {
      return Optional.empty();
    }
  }

  /** A quantity of a number, absent where the number is none or lies outside of its range. */
  private static <T> Optional<T> of(OptionalDouble number, DoubleFunction<T> quantity) {
    if (number.isEmpty()) {
      return Optional.empty();
    }
    try {
      return Optional.of(quantity.apply(number.getAsDouble()));
    } catch (IllegalArgumentException e) {
      return Optional.empty();
    }
  }

  /** The first number of a field; absent where it is missing or not finite (1/0). */
  private OptionalDouble number(int tag) {
    Object value = value(tag);
    if (value instanceof Number number) {
      return finite(number.doubleValue());
    }
    if (value instanceof Object[] several
        && several.length > 0
        && several[0] instanceof Number first) {
      return finite(first.doubleValue());
    }
    if (value instanceof int[] several && several.length > 0) {
      return finite(several[0]);
    }
    if (value instanceof long[] several && several.length > 0) {
      return finite(several[0]);
    }
    if (value instanceof short[] several && several.length > 0) {
      return finite(several[0]);
    }
    return OptionalDouble.empty();
  }

  private static OptionalDouble finite(double value) {
    return Double.isFinite(value) ? OptionalDouble.of(value) : OptionalDouble.empty();
  }

  private Optional<String> text(int tag) {
    return value(tag) instanceof String text
        ? Optional.of(text.replaceAll("\\p{Cntrl}", " ").strip()).filter(t -> !t.isEmpty())
        : Optional.empty();
  }

  private Object value(int tag) {
    Entry entry = exif.getEntryById(tag);
    if (entry == null) {
      entry = top.getEntryById(tag);
    }
    return entry == null ? null : entry.getValue();
  }
}

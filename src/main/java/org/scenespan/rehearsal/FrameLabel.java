package org.scenespan.rehearsal;

import java.nio.charset.StandardCharsets;
import java.time.OffsetDateTime;
import java.time.format.DateTimeFormatter;
import java.util.Locale;
import java.util.Optional;
import org.scenespan.light.Exposure;
import org.scenespan.light.Stops;

/**
 * What the camera writes into a file of how it was taken, as Exif 2.32 (CIPA DC-008).
 *
 * @param exposure the settings
 * @param compensation the exposure compensation of a camera on aperture priority; absent on manual
 * @param capturedAt the camera's own clock when the shutter opened
 */
record FrameLabel(Exposure exposure, Optional<Stops> compensation, OffsetDateTime capturedAt) {
  FrameLabel(Exposure exposure, OffsetDateTime capturedAt) {
    this(exposure, Optional.empty(), capturedAt);
  }

  static final String MAKE = "Scenespan";
  static final String MODEL = "Simulated camera";
  private static final int EXIF_POINTER = 34665;
  private static final DateTimeFormatter DATE_TIME =
      DateTimeFormatter.ofPattern("uuuu:MM:dd HH:mm:ss", Locale.ROOT);

  /** Adds the tags that stand in a file's first directory, and the Exif directory under it. */
  TiffDirectory addTo(TiffDirectory first, int width, int height) {
    return first
        .text(271, MAKE)
        .text(272, MODEL)
        .shorts(274, 1) // Orientation: as it is.
        .text(306, DATE_TIME.format(capturedAt))
        .directory(EXIF_POINTER, exif(width, height));
  }

  private TiffDirectory exif(int width, int height) {
    String time = DATE_TIME.format(capturedAt);
    String thousandths = String.format(Locale.ROOT, "%03d", capturedAt.getNano() / 1_000_000);
    String offset = DateTimeFormatter.ofPattern("xxx", Locale.ROOT).format(capturedAt);
    return new TiffDirectory()
        .rationals(33434, exposure.shutter().nominalSeconds()) // ExposureTime
        .rationals(33437, exposure.aperture().nominalNumber()) // FNumber
        .shorts(
            34850, compensation.isPresent() ? 3 : 1) // ExposureProgram: aperture priority, manual
        .shorts(34855, (int) Math.min(65_535, Math.round(exposure.iso().nominalSpeed())))
        .shorts(34864, 2) // SensitivityType: recommended exposure index
        .undefined(36864, ascii("0232")) // ExifVersion
        .text(36867, time) // DateTimeOriginal
        .text(36868, time) // DateTimeDigitized
        .text(36880, offset) // OffsetTime
        .text(36881, offset) // OffsetTimeOriginal
        .undefined(37121, new byte[] {1, 2, 3, 0}) // ComponentsConfiguration: Y, Cb, Cr
        .signedRationals(37377, exposure.shutter().tv()) // ShutterSpeedValue
        .rationals(37378, exposure.aperture().av()) // ApertureValue
        .signedRationals(37380, compensation.map(Stops::value).orElse(0.0)) // ExposureBiasValue
        .shorts(37383, 2) // MeteringMode: centre-weighted
        .text(37520, thousandths) // SubSecTime
        .text(37521, thousandths) // SubSecTimeOriginal
        .undefined(40960, ascii("0100")) // FlashpixVersion
        .shorts(40961, 1) // ColorSpace: sRGB
        .longs(40962, width) // PixelXDimension
        .longs(40963, height) // PixelYDimension
        .shorts(41986, compensation.isPresent() ? 2 : 1) // ExposureMode: automatic bracket, manual
        .shorts(41987, 1); // WhiteBalance: manual
  }

  private static byte[] ascii(String text) {
    return text.getBytes(StandardCharsets.US_ASCII);
  }
}

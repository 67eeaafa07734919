package org.scenespan.folder;

import static org.junit.jupiter.api.Assertions.assertEquals;

import com.google.common.jimfs.Configuration;
import com.google.common.jimfs.Jimfs;
import java.io.IOException;
import java.nio.ByteOrder;
import java.nio.file.FileSystem;
import java.nio.file.Files;
import java.time.Instant;
import java.util.function.UnaryOperator;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.scenespan.frame.CaptureTime;
import org.scenespan.frame.FrameMetadata;

/** Exif's own cases (CIPA DC-008) that no photograph at hand has. */
class ExifReaderTest {
  private static FrameMetadata metadata(TiffBytes top) throws IOException, UnreadableFrame {
    try (FileSystem memory = Jimfs.newFileSystem(Configuration.unix())) {
      byte[] jpeg = Pictures.withExif(Pictures.jpeg(8, 8, 1), top.file());
      return new FrameReader().read(Files.write(memory.getPath("/a.jpg"), jpeg)).metadata();
    }
  }

  private static FrameMetadata exif(UnaryOperator<TiffBytes> fields) throws Exception {
    TiffBytes top = new TiffBytes(ByteOrder.BIG_ENDIAN).shorts(274, 3);
    return metadata(top.directory(34665, fields.apply(top.inner())));
  }

  static Stream<Arguments> sensitivities() {
    return Stream.of(
        row("ISO 400", exif -> exif.shorts(34855, 400)),
        row("ISO 400", exif -> exif.shorts(34855, 400, 0)),
        row("ISO 125", exif -> exif.shorts(34855, 125).shorts(34864, 2).longs(34866, 800)),
        row("ISO 102400", exif -> exif.shorts(34855, 65535).shorts(34864, 2).longs(34866, 102400)),
        row("ISO 102400", exif -> exif.shorts(34855, 65535).shorts(34864, 1).longs(34865, 102400)),
        row(
            "ISO 204800",
            exif ->
                exif.shorts(34855, 65535)
                    .shorts(34864, 3)
                    .longs(34865, 102400)
                    .longs(34867, 204800)),
        row("ISO 640", exif -> exif.shorts(34855, 0).longs(34867, 640)),
        row("none", exif -> exif.shorts(34855, 65535)),
        row("none", exif -> exif.shorts(34855, 0)),
        row("none", exif -> exif.shorts(34855, 65535).longs(34866, 0)),
        row("none", exif -> exif.text(36867, "2026:05:04 05:12:31")));
  }

  private static Arguments row(String expected, UnaryOperator<TiffBytes> fields) {
    return Arguments.of(expected, fields);
  }

  @ParameterizedTest
  @MethodSource("sensitivities")
  void iso(String expected, UnaryOperator<TiffBytes> fields) throws Exception {
    assertEquals(expected, exif(fields).iso().map(Object::toString).orElse("none"));
  }

  static Stream<Arguments> shutters() {
    return Stream.of(
        row("1/125 s", exif -> exif.rationals(33434, 1, 125)),
        row("30 s", exif -> exif.rationals(33434, 30, 1)),
        row("1/125 s", exif -> exif.signedRationals(37377, 7, 1)),
        row("1/125 s", exif -> exif.rationals(33434, 0, 1).signedRationals(37377, 7, 1)),
        row("1/125 s", exif -> exif.rationals(33434, 1, 0).signedRationals(37377, 7, 1)),
        row("30 s", exif -> exif.signedRationals(37377, -5, 1)),
        row("none", exif -> exif.rationals(33434, 1, 0)),
        row("none", exif -> exif.rationals(33434, 0, 0)),
        row("none", exif -> exif.signedRationals(37377, -5000, 1)),
        row("none", exif -> exif.text(33434, "1/125")));
  }

  @ParameterizedTest
  @MethodSource("shutters")
  void shutter(String expected, UnaryOperator<TiffBytes> fields) throws Exception {
    assertEquals(expected, exif(fields).shutter().map(Object::toString).orElse("none"));
  }

  static Stream<Arguments> apertures() {
    return Stream.of(
        row("f/5.6", exif -> exif.rationals(33437, 56, 10)),
        row("f/11", exif -> exif.rationals(33437, 11, 1)),
        row("f/8", exif -> exif.rationals(37378, 6, 1)),
        row("f/8", exif -> exif.rationals(33437, 0, 0).rationals(37378, 6, 1)),
        row("none", exif -> exif.rationals(33437, 0, 1)),
        row("none", exif -> exif.rationals(33437, 8, 0)));
  }

  @ParameterizedTest
  @MethodSource("apertures")
  void aperture(String expected, UnaryOperator<TiffBytes> fields) throws Exception {
    assertEquals(expected, exif(fields).aperture().map(Object::toString).orElse("none"));
  }

  @ParameterizedTest
  @CsvSource({
    "2026:05:04 05:12:31, 25, +02:00, 2026-05-04T03:12:31.250Z",
    "2026:05:04 05:12:31, 250, -06:30, 2026-05-04T11:42:31.250Z",
    "2026:05:04 05:12:31, 007, , 2026-05-04T05:12:31.007Z",
    "2026:05:04 05:12:31, , Z, 2026-05-04T05:12:31Z",
    "2026:05:04 05:12:31, 'x ', east, 2026-05-04T05:12:31Z",
    "0000:00:00 00:00:00, , , none",
    "2026:13:04 05:12:31, , , none",
    "2026:02:30 05:12:31, , , none",
    "'    :  :     :  :  ', 1, , none"
  })
  void captureTime(String written, String parts, String offset, String expected) throws Exception {
    FrameMetadata metadata =
        exif(
            exif -> {
              exif.text(36867, written);
              if (parts != null) {
                exif.text(37521, parts);
              }
              return offset == null ? exif : exif.text(36881, offset);
            });
    assertEquals(
        expected,
        metadata.capturedAt().map(CaptureTime::asInstant).map(Instant::toString).orElse("none"));
    boolean hasParts = parts != null && parts.matches("\\d+");
    metadata.capturedAt().ifPresent(time -> assertEquals(hasParts, time.subSeconds()));
  }

  @ParameterizedTest
  @CsvSource({"1, 3, 0.3333333", "-5, 1, -5", "0, 1, 0", "1, 0, NaN", "1000, 1, NaN"})
  void compensation(long numerator, long denominator, double stops) throws Exception {
    FrameMetadata metadata = exif(exif -> exif.signedRationals(37380, numerator, denominator));
    assertEquals(stops, metadata.compensation().map(s -> s.value()).orElse(Double.NaN), 1e-6);
    assertEquals(3, metadata.orientation());
  }

  @Test
  void exifThatIsNoneLeavesThePixels() throws Exception {
    TiffBytes zero = new TiffBytes(ByteOrder.LITTLE_ENDIAN).shorts(274, 9).text(272, "  ");
    assertEquals(FrameMetadata.NONE, metadata(zero));
    try (FileSystem memory = Jimfs.newFileSystem(Configuration.unix())) {
      byte[] jpeg = Pictures.withExif(Pictures.jpeg(8, 8, 1), "no directory".getBytes());
      FrameMetadata metadata =
          new FrameReader().read(Files.write(memory.getPath("/a.jpg"), jpeg)).metadata();
      assertEquals(FrameMetadata.NONE, metadata);
    }
  }
}

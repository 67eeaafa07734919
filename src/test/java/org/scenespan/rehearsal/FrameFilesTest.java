package org.scenespan.rehearsal;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.twelvemonkeys.imageio.metadata.CompoundDirectory;
import com.twelvemonkeys.imageio.metadata.Directory;
import com.twelvemonkeys.imageio.metadata.tiff.Rational;
import com.twelvemonkeys.imageio.metadata.tiff.TIFFReader;
import com.twelvemonkeys.imageio.stream.ByteArrayImageInputStream;
import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.time.OffsetDateTime;
import java.util.Arrays;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.scenespan.frame.NoiseModel;
import org.scenespan.frame.Radiance;
import org.scenespan.frame.ToneResponse;
import org.scenespan.light.Aperture;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;

/** What is written, read back by others. */
class FrameFilesTest {
  private static final OffsetDateTime TAKEN = OffsetDateTime.parse("2026-05-04T05:12:31.250+02:00");
  private static final Sensor SENSOR = new Sensor(NoiseModel.TYPICAL, 1);

  static FrameLabel label(String shutter, String aperture, String iso) {
    Exposure exposure =
        new Exposure(Shutter.parse(shutter), Aperture.parse(aperture), Iso.parse(iso));
    return new FrameLabel(exposure, TAKEN);
  }

  /** A wedge over 14 stops from the left to the right, from clipped to nearly nothing. */
  static SensorFrame wedge(int width, int height) {
    float[][] rows = new float[height][3 * width];
    for (float[] row : rows) {
      for (int x = 0; x < width; x++) {
        float light = (float) Math.pow(2, 7 - 14.0 * x / width);
        row[3 * x] = light;
        row[3 * x + 1] = 0.8f * light;
        row[3 * x + 2] = 0.6f * light;
      }
    }
    Scene scene = Scene.of("wedge", new Radiance(width, rows), new Ev(13));
    return SENSOR.expose(scene, label("1/125", "f/8", "100").exposure(), 1);
  }

  private static CompoundDirectory tiff(byte[] bytes) throws IOException {
    Directory directory = new TIFFReader().read(new ByteArrayImageInputStream(bytes));
    return (CompoundDirectory) directory;
  }

  /** The Exif segment's TIFF structure, which has to be the first segment. */
  private static byte[] exif(byte[] jpeg) {
    assertEquals(0xffd8ffe1, ByteBuffer.wrap(jpeg).getInt());
    int length = ByteBuffer.wrap(jpeg).getShort(4) & 0xffff;
    assertEquals("Exif\0\0", new String(jpeg, 6, 6, java.nio.charset.StandardCharsets.US_ASCII));
    return Arrays.copyOfRange(jpeg, 12, 4 + length);
  }

  private static Object value(Directory directory, int tag) {
    return directory.getEntryById(tag).getValue();
  }

  private static Directory exifDirectory(CompoundDirectory tiff) {
    return (Directory) tiff.getEntryById(34665).getValue();
  }

  /** Nominal rationals as a camera writes them, exact APEX values. */
  @ParameterizedTest
  @CsvSource({
    "1/125, f/8, 100, 1, 125, 8, 7, 6",
    "1/8000, f/22, 6400, 1, 8000, 22, 13, 9",
    "1.3s, f/5.6, 400, 13, 10, 5.6, -0.333333, 5",
    "0.8s, f/1.4, 125, 4, 5, 1.4, 0.333333, 1",
    "30s, f/11, 100, 30, 1, 11, -5, 7",
    "0.3s, f/2.8, 3200, 3, 10, 2.8, 1.666667, 3"
  })
  void exifSaysHowTheFrameWasTaken(
      String shutter,
      String aperture,
      String iso,
      long top,
      long bottom,
      double number,
      double tv,
      double av)
      throws IOException {
    byte[] jpeg = JpegFile.encode(wedge(16, 8), label(shutter, aperture, iso));
    Directory exif = exifDirectory(tiff(exif(jpeg)));
    assertEquals(new Rational(top, bottom), value(exif, 33434));
    assertEquals(number, ((Rational) value(exif, 33437)).doubleValue(), 1e-9);
    assertEquals(Integer.parseInt(iso), value(exif, 34855));
    assertEquals(tv, ((Rational) value(exif, 37377)).doubleValue(), 2e-6);
    assertEquals(av, ((Rational) value(exif, 37378)).doubleValue(), 2e-6);
    assertEquals(0, ((Rational) value(exif, 37380)).doubleValue());
  }

  @Test
  void timeNamesAndSizeAreThere() throws IOException {
    CompoundDirectory first = tiff(exif(JpegFile.encode(wedge(16, 8), label("1/125", "8", "100"))));
    assertEquals("Scenespan", value(first, 271));
    assertEquals("Simulated camera", value(first, 272));
    assertEquals(1, value(first, 274));
    Directory exif = exifDirectory(first);
    assertEquals("2026:05:04 05:12:31", value(exif, 36867));
    assertEquals("250", value(exif, 37521));
    assertEquals("+02:00", value(exif, 36881));
    assertEquals(16L, ((Number) value(exif, 40962)).longValue());
    assertEquals(8L, ((Number) value(exif, 40963)).longValue());
  }

  @ParameterizedTest
  @ValueSource(strings = {"0.00717s", "0.123456s", "77s"})
  void timesOfNoSeriesKeepTheirValue(String shutter) throws IOException {
    FrameLabel label = label(shutter, "f/8", "100");
    Directory exif = exifDirectory(tiff(exif(JpegFile.encode(wedge(16, 8), label))));
    double seconds = ((Rational) value(exif, 33434)).doubleValue();
    assertEquals(label.exposure().shutter().seconds(), seconds, 1e-6);
  }

  /** Code 255 goes in where the sensor clips and nowhere else; the rest is the sRGB response. */
  @Test
  void onlyClippingIsCoded255() {
    SensorFrame frame = wedge(700, 4);
    BufferedImage picture = JpegFile.picture(frame, Rendering.PLAIN);
    ToneResponse srgb = ToneResponse.srgb(8);
    int clipped = 0;
    for (int y = 0; y < 4; y++) {
      for (int x = 0; x < 700; x++) {
        int code = frame.code(x, y, SensorFrame.GREEN);
        int encoded = picture.getRGB(x, y) >> 8 & 0xff;
        assertEquals(code == 16_383, encoded == 255);
        clipped += encoded == 255 ? 1 : 0;
        if (code < 16_000 && code > 512) {
          double linear = (code - 512) / 15_871.0;
          assertEquals(
              srgb.linear(encoded),
              linear,
              0.5 * (srgb.linear(encoded + 1) - srgb.linear(Math.max(0, encoded - 1))));
        }
      }
    }
    assertTrue(clipped > 100, clipped + " clipped");
  }

  /** Compression moves a code by a few at the most, and by less than one on the average. */
  @Test
  void jpegKeepsThePicture() throws IOException {
    SensorFrame frame = wedge(640, 64);
    BufferedImage before = JpegFile.picture(frame, Rendering.PLAIN);
    byte[] jpeg = JpegFile.encode(frame, label("1/125", "f/8", "100"));
    BufferedImage after = ImageIO.read(new ByteArrayInputStream(jpeg));
    assertEquals(640, after.getWidth());
    assertEquals(64, after.getHeight());
    long sum = 0;
    int worst = 0;
    for (int i = 0; i < 640 * 64 * 3; i++) {
      int x = i / 3 % 640;
      int y = i / 3 / 640;
      int shift = 8 * (i % 3);
      int difference =
          Math.abs((before.getRGB(x, y) >> shift & 0xff) - (after.getRGB(x, y) >> shift & 0xff));
      sum += difference;
      worst = Math.max(worst, difference);
    }
    assertTrue(worst <= 16, "worst " + worst);
    assertTrue(sum < 640 * 64 * 3, "sum " + sum);
    assertEquals((byte) 0xd9, jpeg[jpeg.length - 1]);
    // The frame header tells one sample of each component a pixel: 0x11 three times.
    int sof = indexOf(jpeg, new byte[] {(byte) 0xff, (byte) 0xc0});
    assertArrayEquals(
        new byte[] {3, 1, 0x11, 0, 2, 0x11, 1, 3, 0x11, 1},
        Arrays.copyOfRange(jpeg, sof + 9, sof + 19));
  }

  @Test
  void largeClippedAreasStayClipped() throws IOException {
    float[][] rows = new float[64][3 * 64];
    for (float[] row : rows) {
      Arrays.fill(row, 1);
    }
    Scene scene = Scene.of("white", new Radiance(64, rows), new Ev(18));
    FrameLabel label = label("1/125", "f/8", "100");
    byte[] jpeg = JpegFile.encode(SENSOR.expose(scene, label.exposure(), 1), label);
    BufferedImage after = ImageIO.read(new ByteArrayInputStream(jpeg));
    for (int i = 0; i < 64 * 64; i++) {
      assertEquals(0xffffff, after.getRGB(i % 64, i / 64) & 0xffffff);
    }
  }

  @ParameterizedTest
  @CsvSource({"64, 32", "65, 33", "700, 401"})
  void rawFileHoldsEachCodeOfTheMosaic(int width, int height) throws IOException {
    SensorFrame frame = wedge(width, height);
    byte[] dng = DngFile.encode(frame, label("1/125", "f/8", "100"));
    CompoundDirectory first = tiff(dng);
    assertEquals(32803, value(first, 262));
    assertEquals(512, value(first, 50714));
    assertEquals(16_383L, ((Number) value(first, 50717)).longValue());
    assertEquals(125, ((Rational) value(exifDirectory(first), 33434)).denominator());
    ByteBuffer bytes = ByteBuffer.wrap(dng).order(ByteOrder.LITTLE_ENDIAN);
    long[] offsets = longs(value(first, 273));
    int rowsPerStrip = ((Number) value(first, 278)).intValue();
    for (int y = 0; y < height; y++) {
      for (int x = 0; x < width; x++) {
        int channel = y % 2 == 0 ? x % 2 : 1 + x % 2;
        int at = (int) offsets[y / rowsPerStrip] + 2 * (y % rowsPerStrip * width + x);
        assertEquals(frame.code(x, y, channel), bytes.getShort(at) & 0xffff);
      }
    }
    long[] lengths = longs(value(first, 279));
    assertEquals(2L * width * height, Arrays.stream(lengths).sum());
    assertEquals(dng.length, offsets[offsets.length - 1] + lengths[lengths.length - 1]);
  }

  private static long[] longs(Object value) {
    return value instanceof Number one ? new long[] {one.longValue()} : (long[]) value;
  }

  private static int indexOf(byte[] bytes, byte[] wanted) {
    for (int i = 0; i + wanted.length <= bytes.length; i++) {
      if (Arrays.equals(bytes, i, i + wanted.length, wanted, 0, wanted.length)) {
        return i;
      }
    }
    throw new AssertionError("not found");
  }
}

package org.scenespan.proof;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.opencv.core.CvType;
import org.opencv.core.Mat;
import org.opencv.photo.Photo;
import org.scenespan.frame.CameraProfile;
import org.scenespan.frame.CodeScale;
import org.scenespan.frame.FrameMetadata;
import org.scenespan.frame.PictureForm;
import org.scenespan.frame.PictureRows;
import org.scenespan.frame.ToneResponse;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.rehearsal.Scene;
import org.scenespan.rehearsal.SensorTap;

/** A camera whose JPEG has an S over sRGB and clips at half of the raw's saturation. */
class CalibrationTest {
  private static final int WIDTH = 384;
  private static final int HEIGHT = 288;
  private static final double HEADROOM_STOPS = 1;
  private static final List<String> SHUTTERS =
      List.of("1/2000", "1/1000", "1/500", "1/250", "1/125", "1/60", "1/30", "1/15", "1/8");

  private static final DoubleUnaryOperator TONE =
      light -> s(ToneResponse.linearToSrgb(Math.min(1, light * Math.pow(2, HEADROOM_STOPS))));

  private static double s(double v) {
    return 0.5 * v + 0.5 * v * v * (3 - 2 * v);
  }

  private static final List<short[]> JPEGS = new ArrayList<>();
  private static final List<short[]> RAWS = new ArrayList<>();

  /** Flat tiles of twelve pixels, each with its own light and tint, over ten stops. */
  private static Scene tiles() {
    float[][] rows = new float[HEIGHT][3 * WIDTH];
    for (int y = 0; y < HEIGHT; y++) {
      for (int x = 0; x < WIDTH; x++) {
        int tile = y / 12 * (WIDTH / 12) + x / 12;
        double light = Math.pow(2, 10 * (tile * 0.61803 % 1));
        for (int c = 0; c < 3; c++) {
          rows[y][3 * x + c] = (float) (light * (1 + 0.2 * ((tile + c) % 3 - 1)));
        }
      }
    }
    return SensorTap.scene(rows, new Ev(10));
  }

  @BeforeAll
  static void shoot() {
    Scene scene = tiles();
    for (String shutter : SHUTTERS) {
      Exposure exposure = Exposures.of(shutter);
      JPEGS.add(SensorTap.rendered8(scene, exposure, JPEGS.size() + 1, TONE));
      RAWS.add(SensorTap.linear16(scene, exposure, RAWS.size() + 1));
    }
  }

  private static FrameMetadata metadata(int index, String camera) {
    Exposure exposure = Exposures.of(SHUTTERS.get(index));
    return new FrameMetadata(
        Optional.of(exposure.shutter()),
        Optional.of(exposure.aperture()),
        Optional.of(exposure.iso()),
        Optional.empty(),
        Optional.empty(),
        1,
        Optional.of(camera));
  }

  /** Files by their number: {@code 3.jpg}, {@code 3.dng}. */
  private static void read(Path file, PictureRows rows) throws IOException {
    String[] name = file.getFileName().toString().split("\\.");
    int index = Integer.parseInt(name[0]);
    boolean jpeg = name[1].equals("jpg");
    CodeScale scale = jpeg ? CodeScale.of(ToneResponse.srgb(8)) : CodeScale.linear16();
    rows.begin(new PictureForm(WIDTH, HEIGHT, jpeg, scale, metadata(index, "Test camera")));
    short[] codes = (jpeg ? JPEGS : RAWS).get(index);
    short[] row = new short[3 * WIDTH];
    for (int y = 0; y < HEIGHT; y++) {
      System.arraycopy(codes, y * row.length, row, 0, row.length);
      rows.row(y, row);
    }
  }

  private static CameraProfile recover(String... files) throws IOException {
    List<Path> paths = new ArrayList<>();
    for (String file : files) {
      paths.add(Path.of(file));
    }
    return new Calibration(CalibrationTest::read, (step, share) -> {}).recover(paths);
  }

  private static CameraProfile whole() throws IOException {
    return recover(
        "8.jpg", "0.jpg", "1.jpg", "2.jpg", "3.jpg", "4.jpg", "5.jpg", "6.jpg", "7.jpg", "2.dng",
        "4.dng");
  }

  /** The code at which a curve gives light, found by halving. */
  private static double lightOf(int code) {
    double low = 0;
    double high = 1;
    for (int i = 0; i < 60; i++) {
      double middle = (low + high) / 2;
      if (255 * TONE.applyAsDouble(middle) < code) {
        low = middle;
      } else {
        high = middle;
      }
    }
    return low;
  }

  /** Codes 16 to 240 within 0.05 stop of the simulated camera's own curve. */
  @Test
  void findsTheCurveOfTheSimulatedCamera() throws IOException {
    CameraProfile profile = whole();
    assertEquals("Test camera", profile.camera());
    assertEquals(9, profile.frames());
    assertEquals(8, profile.spanStops(), 1e-9);
    double worst = 0;
    for (CameraProfile.Channel channel : profile.channels()) {
      for (int code = 16; code <= 240; code++) {
        double truth = lightOf(code) / lightOf(128);
        double found = channel.response().linear(code) / channel.response().linear(128);
        worst = Math.max(worst, Math.abs(Math.log(found / truth) / Math.log(2)));
      }
      assertTrue(channel.lowestCode() <= 10 && channel.highestCode() >= 245, channel.toString());
    }
    assertTrue(worst <= 0.05, "off by " + worst + " stops");
  }

  /** One stop, within 0.1: the end of the response is extrapolated from code 250 on. */
  @Test
  void findsTheHeadroomToRawClipping() throws IOException {
    for (CameraProfile.Channel channel : whole().channels()) {
      CameraProfile.Headroom headroom = channel.headroom().orElseThrow();
      assertEquals(HEADROOM_STOPS, headroom.stops(), 0.1);
      assertTrue(headroom.spreadStops() < 0.1, headroom.toString());
    }
    assertTrue(recover("0.jpg", "4.jpg", "8.jpg").leastHeadroom().isEmpty());
  }

  /**
   * OpenCV's calibrator after Debevec &amp; Malik on the same pictures, with its own 70 samples and
   * λ 10, both at code 128: its own tests allow a relative 0.25, over all codes. Over codes 16 to
   * 240 it is 0.06 here, and it is OpenCV's few samples of single pixels that are off.
   */
  @Test
  void isThatOfTheReference() throws IOException {
    List<Mat> mats = new ArrayList<>();
    JPEGS.forEach(codes -> mats.add(Cv.rgb(codes, WIDTH)));
    Mat times = new Mat(SHUTTERS.size(), 1, CvType.CV_32F);
    for (int j = 0; j < SHUTTERS.size(); j++) {
      times.put(j, 0, Exposures.of(SHUTTERS.get(j)).shutter().seconds());
    }
    Mat response = new Mat();
    Photo.createCalibrateDebevec(70, 10, false).process(mats, response, times);
    float[] theirs = new float[3 * 256];
    response.get(0, 0, theirs);
    CameraProfile profile = whole();
    double worst = 0;
    for (int channel = 0; channel < 3; channel++) {
      ToneResponse ours = profile.channels().get(channel).response();
      for (int code = 16; code <= 240; code++) {
        double reference = theirs[3 * code + channel] / theirs[3 * 128 + channel];
        double found = ours.linear(code) / ours.linear(128);
        worst = Math.max(worst, Math.abs(found / reference - 1));
      }
    }
    assertTrue(worst <= 0.05, "off by " + worst);
  }

  @Test
  void saysWhatIsMissing() {
    IllegalArgumentException narrow =
        assertThrows(IllegalArgumentException.class, () -> recover("0.jpg", "1.jpg"));
    assertTrue(narrow.getMessage().contains("span 1.0 stops"), narrow.getMessage());
    assertThrows(IllegalArgumentException.class, () -> recover("0.dng", "8.dng"));
    IOException gone =
        assertThrows(
            IOException.class,
            () ->
                new Calibration(
                        (file, rows) -> {
                          throw new IOException("the file has gone");
                        },
                        (step, share) -> {})
                    .recover(List.of(Path.of("x.jpg"))));
    assertTrue(gone.getMessage().contains("x.jpg"), gone.getMessage());
  }
}

package org.scenespan.plan.guard;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.scenespan.frame.Deviation;
import org.scenespan.frame.FrameMeasure;
import org.scenespan.frame.FrameMetadata;
import org.scenespan.frame.FrameSource;
import org.scenespan.frame.LogHistogram;
import org.scenespan.frame.Patch;
import org.scenespan.frame.PixelCounts;
import org.scenespan.light.Aperture;
import org.scenespan.light.Iso;
import org.scenespan.light.Share;
import org.scenespan.light.Shutter;
import org.scenespan.light.Stops;

/** The levels are the trade's practice: warn at 0.1 stop and 2 %, alarm at 0.2 stop and 4 %. */
class GuardTest {
  private static final Guard GUARD = new Guard(Levels.USUAL);
  private static final Patch PATCH = new Patch(0.4, 0.4, 0.1, 0.1);

  private static FrameMeasure measure(long redClipped, double sharpness) {
    LogHistogram.Builder builder = new LogHistogram.Builder();
    builder.add(0.18, 10_000);
    LogHistogram histogram = builder.build();
    return new FrameMeasure(
        100,
        100,
        FrameSource.FULL,
        10_000,
        new PixelCounts(redClipped, 0, 0, redClipped),
        PixelCounts.NONE,
        histogram,
        histogram,
        histogram,
        histogram,
        histogram,
        sharpness);
  }

  private static FrameMetadata metadata(String shutter, String aperture, String iso) {
    return new FrameMetadata(
        Optional.of(Shutter.parse(shutter)),
        Optional.of(Aperture.parse(aperture)),
        Optional.of(Iso.parse(iso)),
        Optional.empty(),
        Optional.empty(),
        1,
        Optional.empty());
  }

  private static final FrameMetadata AS_SET = metadata("1/125", "f/8", "100");

  private static Watched frame(double exposure, double whole, double red, double blue) {
    return frame(exposure, whole, red, blue, true, Optional.empty());
  }

  private static Watched frame(
      double exposure,
      double whole,
      double red,
      double blue,
      boolean seen,
      Optional<Deviation.Band> band) {
    return new Watched(
        AS_SET,
        measure(0, 0.01),
        Optional.of(
            new Deviation(
                "REF.JPG",
                new Stops(exposure),
                new Stops(whole),
                red,
                blue,
                Optional.of(PATCH),
                seen,
                band)));
  }

  private static Watched even() {
    return frame(0, 0, 0, 0);
  }

  private static List<String> judged(List<Watched> before, Watched now) {
    return GUARD.judge(even(), before, now).stream()
        .map(finding -> finding.weight().label() + " " + finding.kind().label())
        .toList();
  }

  @ParameterizedTest
  @CsvSource({
    "0.09, 0, ''",
    "0.1, 0, warning exposure",
    "-0.19, 0, warning exposure",
    "-0.2, 0, alarm exposure",
    "0.3, 0, alarm exposure",
    "0, 0.019, ''",
    "0, 0.02, warning colour",
    "0, -0.04, alarm colour",
  })
  void warnsAndRaisesTheAlarm(double exposure, double colour, String expected) {
    List<String> wanted = expected.isEmpty() ? List.of() : List.of(expected);
    assertEquals(wanted, judged(List.of(), frame(exposure, 0, colour, 0)));
    assertEquals(wanted, judged(List.of(), frame(exposure, 0, 0, colour)));
  }

  @Test
  void aFlashThatDidNotFireIsHeldAgainstTheFramesBefore() {
    List<Watched> dim = new ArrayList<>();
    for (int i = 0; i < 6; i++) {
      dim.add(frame(-0.5, -0.5, 0, 0));
    }
    assertEquals(List.of("alarm misfire"), judged(dim, frame(-1.5, -1.5, 0, 0)));
    assertEquals(List.of("alarm exposure"), judged(dim, frame(-1.4, -1.4, 0, 0)));
    assertEquals(List.of("alarm misfire"), judged(List.of(), frame(-1, -1, 0, 0)));
  }

  @Test
  void aBandIsToldInsteadOfWhatItDoesToTheRest() {
    Deviation.Band band = new Deviation.Band(Deviation.Edge.BOTTOM, new Share(0.4), new Stops(2));
    assertEquals(
        List.of("alarm band"), judged(List.of(), frame(-1, -1.2, 0, 0, true, Optional.of(band))));
  }

  @Test
  void aPatchThatIsCoveredIsNoExposure() {
    assertEquals(
        List.of("warning patch"),
        judged(List.of(), frame(-0.8, 0, 0.3, 0, false, Optional.empty())));
  }

  @Test
  void aLampThatWarmsUpIsATrendLongBeforeItIsAnAlarm() {
    List<Watched> before = new ArrayList<>();
    Random random = new Random(5);
    List<String> first = List.of();
    int told = 0;
    for (int i = 0; i < 20 && first.isEmpty(); i++) {
      double drift = 0.012 * i + 0.01 * random.nextGaussian();
      Watched now = frame(drift, drift, 0, 0);
      first = judged(before, now).stream().filter(it -> it.contains("trend")).toList();
      before.add(now);
      told = i;
    }
    assertEquals(List.of("warning trend"), first);
    assertTrue(0.012 * told < 0.2, "told at frame " + told);
  }

  @Test
  void scatterIsNoTrend() {
    int told = 0;
    for (int seed = 0; seed < 200; seed++) {
      Random random = new Random(seed);
      List<Watched> before = new ArrayList<>();
      for (int i = 0; i < 24; i++) {
        // A good flash repeats within 0.05 to 0.1 stop (common practice).
        Watched now = frame(0.03 * random.nextGaussian(), 0, 0, 0);
        told += judged(before, now).stream().anyMatch(it -> it.contains("trend")) ? 1 : 0;
        before.add(now);
      }
    }
    assertTrue(told <= 24, told + " trends in 4800 frames of mere scatter");
  }

  @Test
  void aFrameThatStandsAloneIsSaidTo() {
    List<Watched> before = new ArrayList<>();
    for (int i = 0; i < 10; i++) {
      before.add(frame(0.01 * (i % 3 - 1), 0, 0, 0));
    }
    Finding finding = GUARD.judge(even(), before, frame(-0.3, -0.3, 0, 0)).get(0);
    assertTrue(finding.words().contains("this frame alone"), finding.words());
  }

  @Test
  void tellsOtherSettings() {
    Watched now = new Watched(metadata("1/60", "f/8", "200"), measure(0, 0.01), even().deviation());
    Finding finding = GUARD.judge(even(), List.of(), now).get(0);
    assertEquals(Finding.Kind.SETTINGS, finding.kind());
    assertTrue(finding.words().contains("shutter 1/60 s instead of 1/125 s"), finding.words());
    assertTrue(finding.words().contains("ISO 200 instead of ISO 100"), finding.words());
  }

  @ParameterizedTest
  @CsvSource({"19, ''", "20, warning clipping", "100, alarm clipping"})
  void tellsOneChannelThatClips(long red, String expected) {
    Watched now = new Watched(AS_SET, measure(red, 0.01), even().deviation());
    assertEquals(expected.isEmpty() ? List.of() : List.of(expected), judged(List.of(), now));
  }

  @ParameterizedTest
  @CsvSource({"0.0071, ''", "0.007, warning sharpness", "0.005, alarm sharpness"})
  void tellsAFrameThatIsNotSharp(double sharpness, String expected) {
    Watched now = new Watched(AS_SET, measure(0, sharpness), even().deviation());
    assertEquals(expected.isEmpty() ? List.of() : List.of(expected), judged(List.of(), now));
  }

  /** Of the whole frame and of the patch, each over what it was in the reference frame. */
  private static Watched focused(double whole, Optional<Double> patch) {
    return new Watched(
        AS_SET,
        measure(0, 0.01 * whole),
        Optional.of(
            new Deviation(
                "REF.JPG",
                new Stops(0),
                new Stops(0),
                0,
                0,
                Optional.of(PATCH),
                true,
                patch,
                Optional.empty())));
  }

  @ParameterizedTest
  @CsvSource({
    "1, 0.71, ''",
    "1, 0.7, warning sharpness",
    "1.5, 0.5, alarm sharpness", // the focus is on what is behind it
    "0.4, 1, ''", // what is behind it is softer
    "0.4, , alarm sharpness", // a plain card: the whole has to tell
  })
  void thePatchTellsOfFocusWhereItHoldsDetail(double whole, Double patch, String expected) {
    assertEquals(
        expected.isEmpty() ? List.of() : List.of(expected),
        judged(List.of(), focused(whole, Optional.ofNullable(patch))));
  }

  @Test
  void aPatchIsHeldAgainstItsOwnMedian() {
    List<Watched> soft = new ArrayList<>();
    for (int i = 0; i < 6; i++) {
      soft.add(focused(1, Optional.of(0.6)));
    }
    assertEquals(List.of(), judged(soft, focused(1, Optional.of(0.45))));
    assertEquals(List.of("warning sharpness"), judged(soft, focused(1, Optional.of(0.4))));
    Finding finding = GUARD.judge(even(), soft, focused(1, Optional.of(0.3))).get(0);
    assertTrue(finding.words().startsWith("The patch is less sharp"), finding.words());
  }

  @Test
  void aFrameOfAnotherShapeCannotBeHeldAgainstIt() {
    Watched now = new Watched(AS_SET, measure(0, 0.01), Optional.empty());
    assertEquals(List.of("warning unlike"), judged(List.of(), now));
  }
}

package org.scenespan.folder;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.Test;

class PairingTest {
  private static final Instant START = Instant.parse("2026-05-04T03:00:00Z");

  private final List<String> told = new ArrayList<>();
  private Pairing pairing;
  private Set<String> onTheWay = Set.of();

  private void measure(Measure measure) {
    pairing = new Pairing(measure, Pairing.WAIT);
  }

  /** Lets files arrive at a time and notes what is chosen, with its companion in brackets. */
  private void at(double seconds, Arrival... arrivals) {
    Instant now = START.plusMillis((long) (seconds * 1000));
    for (Pairing.Chosen chosen : pairing.next(List.of(arrivals), onTheWay, now)) {
      String companion = chosen.companion().map(name -> "(" + name + ")").orElse("");
      String replaces = chosen.replaces().map(name -> " for " + name).orElse("");
      told.add(seconds + " " + chosen.arrival().name() + companion + replaces);
    }
  }

  private static Arrival whole(String name) {
    return new Arrival.Whole(Path.of(name));
  }

  private static Arrival broken(String name) {
    return new Arrival.Broken(Path.of(name), "cut off");
  }

  @Test
  void aJpegWaitsForItsRaw() {
    measure(Measure.RAW);
    at(0, whole("A.JPG"));
    at(3, whole("A.dng"));
    at(60);
    assertEquals(List.of("3.0 A.dng(A.JPG)"), told);
  }

  @Test
  void aJpegWhoseRawNeverComesIsMeasuredItself() {
    measure(Measure.RAW);
    at(0, whole("A.JPG"));
    at(4.9);
    assertEquals(START.plusSeconds(5), pairing.nextDue().orElseThrow());
    at(5);
    at(7, whole("A.DNG"));
    assertEquals(List.of("5.0 A.JPG"), told);
    assertTrue(pairing.nextDue().isEmpty());
  }

  @Test
  void aJpegWaitsLongerForARawThatIsOnItsWay() {
    measure(Measure.RAW);
    at(0, whole("A.JPG"));
    onTheWay = Set.of("A.DNG", "B.JPG");
    at(5);
    at(12);
    onTheWay = Set.of();
    at(13, whole("A.DNG"));
    assertEquals(List.of("13.0 A.DNG(A.JPG)"), told);
  }

  @Test
  void itDoesNotWaitForEver() {
    measure(Measure.RAW);
    onTheWay = Set.of("A.DNG");
    at(0, whole("A.JPG"));
    for (int second = 1; second <= 70; second++) {
      at(second);
    }
    assertEquals(List.of("60.0 A.JPG"), told);
  }

  @Test
  void aRawIsMeasuredAtOnceAndItsLateJpegIsSilent() {
    measure(Measure.RAW);
    at(0, whole("A.DNG"));
    at(1, whole("A.JPG"));
    at(60);
    assertEquals(List.of("0.0 A.DNG"), told);
  }

  @Test
  void bothAtOnceAreOneFrame() {
    measure(Measure.RAW);
    at(0, whole("A.JPG"), whole("A.dng"), whole("B.dng"), whole("B.jpg"));
    at(60);
    assertEquals(List.of("0.0 A.dng(A.JPG)", "0.0 B.dng(B.jpg)"), told);
  }

  @Test
  void theJpegIsMeasuredAndTheRawIsSilent() {
    measure(Measure.JPEG);
    at(0, whole("A.JPG"));
    at(1, whole("A.DNG"));
    at(2, whole("B.NEF"));
    at(3, whole("B.JPG"));
    at(60);
    assertEquals(List.of("0.0 A.JPG", "3.0 B.JPG(B.NEF)"), told);
  }

  @Test
  void aRawWhoseJpegNeverComesIsMeasured() {
    measure(Measure.JPEG);
    at(0, whole("A.DNG"));
    at(5);
    at(6, whole("A.JPG"));
    assertEquals(List.of("5.0 A.DNG"), told);
  }

  @Test
  void aNameThatComesAgainIsANewPress() {
    measure(Measure.RAW);
    at(0, whole("A.DNG"));
    at(1, whole("A.JPG"));
    at(2, whole("A.JPG"));
    at(3, whole("A.DNG"));
    assertEquals(List.of("0.0 A.DNG", "3.0 A.DNG(A.JPG)"), told);
    at(4, whole("C.JPG"));
    at(4.5, whole("C.JPG"));
    at(60);
    assertEquals(List.of("4.5 C.JPG", "60.0 C.JPG"), told.subList(2, 4));
  }

  @Test
  void aBrokenFileGivesWayToItsWholeCompanion() {
    measure(Measure.RAW);
    at(0, whole("A.JPG"));
    at(1, broken("A.DNG"));
    at(2, broken("B.JPG"));
    at(3, whole("B.DNG"));
    at(4, whole("C.DNG"));
    at(34, broken("C.JPG"));
    at(40, broken("D.JPG"));
    at(60);
    assertEquals(List.of("1.0 A.JPG(A.DNG)", "3.0 B.DNG(B.JPG)", "4.0 C.DNG", "60.0 D.JPG"), told);
  }

  @Test
  void stemsAreToldApart() {
    measure(Measure.RAW);
    at(0, whole("A1.JPG"), whole("A.1.JPG"), whole("a1.DNG"), whole("x.tif"), whole("x.png"));
    at(5);
    assertEquals(
        List.of("0.0 a1.DNG", "0.0 x.tif", "0.0 x.png", "5.0 A1.JPG", "5.0 A.1.JPG"), told);
  }

  @Test
  void aLongSessionForgetsItsOldestPresses() {
    measure(Measure.JPEG);
    for (int i = 0; i < 25_000; i++) {
      at(0, whole("A" + i + ".JPG"));
    }
    assertEquals(25_000, told.size());
    at(1, whole("A0.DNG"), whole("A24999.DNG"));
    at(6);
    assertEquals(List.of("6.0 A0.DNG"), told.subList(25_000, told.size()));
  }

  @Test
  void theJpegAnswersFirstAndTheRawTakesItsPlace() {
    measure(Measure.JPEG_THEN_RAW);
    at(0, whole("A.JPG"));
    at(90, whole("A.DNG"));
    at(91, whole("B.DNG"));
    at(92, whole("B.JPG"));
    at(93, whole("C.JPG"), whole("C.DNG"));
    at(94, whole("D.DNG"), whole("E.JPG"), whole("D.JPG"));
    at(200);
    assertEquals(
        List.of(
            "0.0 A.JPG",
            "90.0 A.DNG(A.JPG) for A.JPG",
            "91.0 B.DNG",
            "93.0 C.JPG",
            "93.0 C.DNG(C.JPG) for C.JPG",
            "94.0 D.JPG",
            "94.0 D.DNG(D.JPG) for D.JPG",
            "94.0 E.JPG"),
        told);
  }

  @Test
  void aBrokenFileNeitherAnswersFirstNorTakesAPlace() {
    measure(Measure.JPEG_THEN_RAW);
    at(0, broken("A.JPG"));
    at(1, whole("A.DNG"));
    at(2, whole("B.JPG"));
    at(3, broken("B.DNG"));
    at(60, broken("C.JPG"));
    at(70);
    assertEquals(List.of("1.0 A.DNG(A.JPG)", "2.0 B.JPG", "70.0 C.JPG"), told);
  }
}

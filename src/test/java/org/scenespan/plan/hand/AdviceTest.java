package org.scenespan.plan.hand;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.scenespan.light.Aperture;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;
import org.scenespan.light.Stops;

/** Clicks are counted on the third-stop series as it is engraved on cameras. */
class AdviceTest {
  private static Exposure exposure(String shutter, String aperture, String iso) {
    return new Exposure(Shutter.parse(shutter), Aperture.parse(aperture), Iso.parse(iso));
  }

  private static Hand hand(Hand.Mode mode, int clicks) {
    return new Hand(mode, clicks, new Stops(3));
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "1/60 | 1/250 | 3 | Shutter: 6 clicks shorter, to 1/250 s. Then take a frame.",
        "1/250 | 1/60 | 3 | Shutter: 6 clicks longer, to 1/60 s. Then take a frame.",
        "1/125 | 1/100 | 3 | Shutter: 1 click longer, to 1/100 s. Then take a frame.",
        "1/60 | 1/250 | 2 | Shutter: 4 clicks shorter, to 1/250 s. Then take a frame.",
        "1/60 | 1/80 | 2 | Shutter: 1 click shorter, to about 1/91 s. Then take a frame.",
        "1/4 | 0.5s | 2 | Shutter: 2 clicks longer, to 0.5 s. Then take a frame.",
        "1/60 | 1/60 | 3 | The dials stand right: take another frame.",
      })
  void countsTheShuttersClicks(String from, String to, int clicks, String words) {
    Advice advice =
        Advice.turn(
            hand(Hand.Mode.MANUAL, clicks),
            exposure(from, "f/8", "100"),
            Optional.empty(),
            exposure(to, "f/8", "100"));
    assertEquals(words, advice.words());
  }

  @Test
  void turnsOneDialAfterTheOther() {
    Advice advice =
        Advice.turn(
            hand(Hand.Mode.MANUAL, 3),
            exposure("1/30", "f/5.6", "100"),
            Optional.empty(),
            exposure("1s", "f/8", "400"));
    assertEquals(
        "Aperture: 3 clicks smaller, to f/8. Shutter: 15 clicks longer, to 1 s. ISO: 6 clicks"
            + " higher, to ISO 400. Then take a frame.",
        advice.words());
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "0 | 1/60 | 1/250 | Exposure compensation: 6 clicks to minus, to \u22122.0. Then take a frame.",
        "-1 | 1/60 | 1/30 | Exposure compensation: 3 clicks to plus, to 0. Then take a frame.",
        "1 | 1/60 | 1/8 | Exposure compensation ends 1.0 stops short of it: set the camera to"
            + " manual, 1/8 s, f/8, ISO 100, and take a frame.",
      })
  void compensatesWhereTheCameraMeters(String stands, String from, String to, String words) {
    for (Hand.Mode mode : Hand.Mode.values()) {
      if (mode != Hand.Mode.MANUAL) {
        Advice advice =
            Advice.turn(
                hand(mode, 3),
                exposure(from, "f/8", "100"),
                Optional.of(new Stops(Double.parseDouble(stands))),
                exposure(to, "f/8", "100"));
        assertEquals(words, advice.words());
      }
    }
  }

  /** Whoever follows it stands where it is wanted, to half a click. */
  @Test
  void leadsToTheWantedExposure() {
    for (int clicks = 2; clicks <= 3; clicks++) {
      for (int from = -30; from <= 10; from += 3) {
        for (int to = -36; to <= 12; to++) {
          Exposure stands = new Exposure(Shutter.ofThird(from), Aperture.parse("f/8"), iso());
          Exposure wanted = new Exposure(Shutter.ofThird(to), Aperture.parse("f/8"), iso());
          Advice advice =
              Advice.turn(hand(Hand.Mode.MANUAL, clicks), stands, Optional.empty(), wanted);
          double stops = 0;
          for (DialTurn turn : advice.turns()) {
            stops += (turn.brighter() ? 1.0 : -1.0) * turn.clicks() / clicks;
          }
          double off = stands.ev().minus(wanted.ev()).value() - stops;
          assertTrue(Math.abs(off) <= 0.5 / clicks + 1e-9, stands + " to " + wanted + ": " + off);
        }
      }
    }
  }

  private static Iso iso() {
    return Iso.parse("100");
  }
}

package org.scenespan.wire;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.scenespan.frame.CameraLag;
import org.scenespan.frame.CameraProfile;
import org.scenespan.frame.MeasuredNoise;
import org.scenespan.frame.MeasuredShutters;
import org.scenespan.frame.ShutterError;
import org.scenespan.frame.ToneResponse;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;
import org.scenespan.light.Stops;
import org.scenespan.proof.Exposures;

class CameraProfileJsonTest {
  private static CameraProfile profile() {
    double[] light = new double[256];
    for (int code = 0; code < 256; code++) {
      light[code] = ToneResponse.srgb(8).linear(code);
    }
    CameraProfile.Channel plain =
        new CameraProfile.Channel(
            ToneResponse.measured(light), 0.0213, 900, 3, 252, Optional.empty());
    CameraProfile.Channel measured =
        new CameraProfile.Channel(
            ToneResponse.measured(light),
            0.0213,
            900,
            3,
            252,
            Optional.of(new CameraProfile.Headroom(0.62, 0.04, 77)));
    return new CameraProfile(
        "A \"camera\"",
        7,
        9.0,
        List.of(measured, plain, plain),
        List.of(new MeasuredNoise(Iso.EV_BASE, 40_000, 210, 3.5, 0.12, 14, 8, 2400, true)),
        Optional.of(
            new MeasuredShutters(
                Shutter.parse("1s"),
                List.of(
                    new ShutterError(Shutter.parse("1/125"), new Stops(-0.04), 0.006, 3),
                    new ShutterError(Shutter.parse("1s"), Stops.ZERO, 0, 3)))),
        Optional.of(new CameraLag(21, 0.91, 1.4, Optional.of(0.012))));
  }

  @Test
  void isReadBackAsItWasWritten() {
    String text = CameraProfileJson.write(profile());
    CameraProfile back = CameraProfileJson.read(text);
    assertEquals(text, CameraProfileJson.write(back));
    assertEquals(0.62, back.leastHeadroom().orElseThrow().stops());
    assertEquals(
        ToneResponse.srgb(8).linear(118), back.channels().get(1).response().linear(118), 1e-7);
  }

  /** Each part is read back, and may be missing. */
  @Test
  void keepsWhatTheSensorAndTheSessionsTell() {
    CameraProfile back = CameraProfileJson.read(CameraProfileJson.write(profile()));
    assertEquals(profile().noise(), back.noise());
    assertEquals(profile().shutters(), back.shutters());
    assertEquals(profile().lag(), back.lag());
    CameraProfile bare =
        new CameraProfile(
            "x", 0, 0, List.of(), profile().noise(), Optional.empty(), Optional.empty());
    assertEquals(bare, CameraProfileJson.read(CameraProfileJson.write(bare)));
    assertEquals(3, bare.over(profile()).channels().size());
    assertEquals(40_000, bare.sensor().orElseThrow().fullWell());
  }

  /** 1/125 is exactly 1/128 s, and 0.04 stop less light was measured. */
  @Test
  void tellsTheRealTime() {
    MeasuredShutters times = profile().shutters().orElseThrow();
    double real = times.real(Exposures.of("1/125")).shutter().seconds();
    assertEquals(Math.pow(2, -0.04) / 128, real, 1e-9);
    assertEquals(Exposures.of("1/60"), times.real(Exposures.of("1/60")));
  }

  @ParameterizedTest
  @CsvSource({
    "saturationElectrons\" : 40000, saturationElectrons\" : -4, full well",
    "method\" : \"equal-pairs, method\" : \"magic, noise.method",
    "errorStops\" : -0.04, errorStops\" : 9, 1/125",
    "fileSeconds\" : 0.91, fileSeconds\" : 9, lag",
    "scenespan camera profile, another, format",
    "version\" : 1, version\" : 2, version",
    "version\" : 1, version\" : \"1\", version",
    "camera\" : , camera\" : 3.5  , not JSON",
    "'camera\" :', 'kamera\" :', camera",
    "'spanStops\" : 9.0', 'spanStops\" : -1', span",
    "residualStops\" : 0.0213, residualStops\" : true, residualStops",
    "'highestCode\" : 252', 'highestCode\" : 300', red",
    "'0.0, 3', '0.5, 3', red",
    "'0.0, 3', '3', response.red",
  })
  void namesTheFieldThatIsWrong(String good, String bad, String named) {
    String text = CameraProfileJson.write(profile());
    assertTrue(text.contains(good), good);
    int at = text.indexOf(good);
    String wrong = text.substring(0, at) + bad + text.substring(at + good.length());
    IllegalArgumentException told =
        assertThrows(IllegalArgumentException.class, () -> CameraProfileJson.read(wrong));
    assertTrue(told.getMessage().contains(named), told.getMessage());
  }
}

package org.scenespan.wire;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.scenespan.frame.CameraProfile;
import org.scenespan.frame.ToneResponse;

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
    return new CameraProfile("A \"camera\"", 7, 9.0, List.of(measured, plain, plain));
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

  @ParameterizedTest
  @CsvSource({
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

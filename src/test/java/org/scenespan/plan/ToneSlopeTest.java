package org.scenespan.plan;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.scenespan.frame.ByteRows;
import org.scenespan.frame.ColourSpace;
import org.scenespan.frame.FrameSource;
import org.scenespan.frame.MidGrey;
import org.scenespan.frame.NoiseModel;
import org.scenespan.frame.PixelMeter;
import org.scenespan.light.Exposure;
import org.scenespan.light.Stops;
import org.scenespan.proof.Exposures;
import org.scenespan.rehearsal.Rendering;

class ToneSlopeTest {
  private static final int PIXELS = 10_000;

  /** A grey ramp over nine stops from EV 6 to EV 15, evenly, through a rendering. */
  private static Evidence frame(String shutter, double contrast) {
    Exposure exposure = Exposures.of(shutter);
    Rendering rendering = new Rendering(Stops.ZERO, contrast);
    byte[] grey = new byte[PIXELS];
    for (int x = 0; x < PIXELS; x++) {
      double ev = 6 + 9.0 * x / PIXELS;
      double light = Math.pow(2, ev - MidGrey.saturation(exposure).value());
      grey[x] = (byte) Math.round(255 * rendering.encoded(light));
    }
    PixelMeter meter = new PixelMeter(PIXELS, 1, FrameSource.FULL, ColourSpace.SRGB);
    new ByteRows(meter, PIXELS).grey(grey);
    return Evidence.of(exposure, meter.measure());
  }

  private static List<Evidence> frames(double contrast, String... shutters) {
    List<Evidence> frames = new ArrayList<>();
    for (String shutter : shutters) {
      frames.add(frame(shutter, contrast));
    }
    return frames;
  }

  /** Within a bin's width over two stops where the codes are light; above and below 1 elsewhere. */
  @ParameterizedTest
  @CsvSource({"0, 0.95, 1.05", "0.6, 1.06, 1.6", "-0.5, 0.5, 0.94"})
  void isOneWhereTheCodesAreLight(double contrast, double least, double most) {
    double slope = ToneSlope.of(frames(contrast, "1/125", "1/500"));
    assertTrue(slope >= least && slope <= most, "slope " + slope);
  }

  @Test
  void saysNothingOfOneFrame() {
    assertEquals(1, ToneSlope.of(frames(-0.5, "1/125")));
    assertEquals(1, ToneSlope.of(frames(-0.5, "1/125", "1/160")));
  }

  /** Lifted shadows hide how dark the dark end is: it stands at EV 6, and is not put above it. */
  @Test
  void aLiftedShadowIsNotTakenForLight() {
    List<Evidence> lifted = frames(-0.5, "1/30", "1/125", "1/500");
    SpanEstimate span = SpanEstimate.of(BracketGoal.USUAL, NoiseModel.TYPICAL, lifted);
    assertTrue(span.low().value() <= 6.2, "low end " + span.low());
    SpanEstimate alone =
        SpanEstimate.of(BracketGoal.USUAL, NoiseModel.TYPICAL, lifted.subList(0, 1));
    assertTrue(alone.low().value() > 6.4, "by a guess alone " + alone.low());
  }
}

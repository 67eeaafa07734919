package org.scenespan.plan.hand;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.scenespan.light.Aperture;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;
import org.scenespan.light.Stops;

/** A studio at 1/125 s, f/8, ISO 100, dials of thirds; levels of the trade: warn at 0.1 stop. */
class StudioTest {
  private static final Hand HAND = new Hand(Hand.Mode.MANUAL, 3, new Stops(3));
  private static final Hand METERED = new Hand(Hand.Mode.APERTURE_PRIORITY, 3, new Stops(3));
  private static final Stops WARN = new Stops(0.1);

  private final List<Studio.Frame> since = new ArrayList<>();

  private static Studio.Frame frame(String shutter, String aperture, double deviation) {
    return new Studio.Frame(
        Optional.of(
            new Exposure(Shutter.parse(shutter), Aperture.parse(aperture), Iso.parse("100"))),
        Optional.empty(),
        Optional.of(new Stops(deviation)));
  }

  private static Studio.Frame metered(double compensation, double deviation) {
    Studio.Frame plain = frame("1/125", "f/8", deviation);
    return new Studio.Frame(
        plain.exposure(), Optional.of(new Stops(compensation)), plain.deviation());
  }

  private String after(Hand hand, Studio.Frame frame) {
    since.add(frame);
    Studio.Frame reference = hand.meters() ? metered(0, 0) : frame("1/125", "f/8", 0);
    return Studio.advice(hand, WARN, reference, since).map(Advice::words).orElse("");
  }

  private String after(String shutter, String aperture, double deviation) {
    return after(HAND, frame(shutter, aperture, deviation));
  }

  @Test
  void opensTheApertureWhereTheLightStaysDown() {
    assertEquals("", after("1/125", "f/8", -0.7));
    assertEquals("", after("1/125", "f/8", -0.65));
    assertEquals(
        "The last 3 frames are 0.7 stop darker than the reference frame."
            + " Aperture: 2 clicks wider, to f/6.3.",
        after("1/125", "f/8", -0.68));
    assertEquals("", after("1/125", "f/8", -0.7), "asked once, not at each frame");
    assertEquals(
        "Right: 1/125 s, f/6.3, ISO 100. Leave the dials.", after("1/125", "f/6.3", -0.01));
    assertEquals(
        "", after("1/125", "f/6.3", 0.02), "other settings than the reference frame's now");
  }

  /** One dark frame, two, or some to either side: a misfire, no drift. */
  @Test
  void leavesASingleFrameAlone() {
    for (double stops : new double[] {-2, 0, -0.5, -0.5, 0.01, 0.4, -0.4, 0.4, -0.4, 0.12, 0.12}) {
      assertEquals("", after("1/125", "f/8", stops));
    }
  }

  @Test
  void namesTheWayBackFromWrongSettings() {
    assertEquals("", after("1/125", "f/8", 0));
    assertEquals(
        "Set otherwise than for the reference frame. Aperture: 3 clicks smaller, to f/8. Shutter:"
            + " 3 clicks longer, to 1/125 s.",
        after("1/250", "f/5.6", 0));
    assertEquals("", after("1/250", "f/5.6", 0), "told once");
    assertEquals(
        "That was 1/500 s, f/8, ISO 100, not what was asked. Shutter: 6 clicks longer, to 1/125 s.",
        after("1/500", "f/8", -2));
    assertTrue(after("1/125", "f/8", 0).startsWith("Right: "));
  }

  @Test
  void turnsCompensationWhereTheCameraMeters() {
    after(METERED, metered(0, 0.36));
    after(METERED, metered(0, 0.33));
    assertEquals(
        "The last 3 frames are 0.3 stop brighter than the reference frame. Exposure compensation:"
            + " 1 click to minus, to \u22120.3.",
        after(METERED, metered(0, 0.35)));
    assertTrue(after(METERED, metered(1.0 / 3, 0.7)).startsWith("That was exposure compensation"));
    assertTrue(after(METERED, metered(-1.0 / 3, 0)).startsWith("Right: exposure compensation"));
  }

  /** A reference frame or a frame without its settings tells nothing of dials. */
  @Test
  void saysNothingWithoutSettings() {
    Studio.Frame mute = new Studio.Frame(Optional.empty(), Optional.empty(), Optional.empty());
    assertEquals("", after(HAND, mute));
    assertEquals(Optional.empty(), Studio.advice(HAND, WARN, mute, since));
  }
}

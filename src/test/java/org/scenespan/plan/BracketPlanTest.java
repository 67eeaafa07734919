package org.scenespan.plan;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.scenespan.frame.NoiseModel;
import org.scenespan.frame.Reach;
import org.scenespan.light.Aperture;
import org.scenespan.light.CameraRange;
import org.scenespan.light.Ev;
import org.scenespan.light.Iso;
import org.scenespan.light.Latitude;
import org.scenespan.light.PictureLimits;
import org.scenespan.light.Share;
import org.scenespan.light.Shutter;
import org.scenespan.light.ShutterLadder;
import org.scenespan.light.Stops;

/** A bracket ends, and when it says that it covers, it does. */
class BracketPlanTest {
  private static final CameraRange CAMERA =
      new CameraRange(
          ShutterLadder.thirds(Shutter.parse("1/8000"), Shutter.parse("30s")),
          Iso.parse("100"),
          Iso.parse("6400"),
          Aperture.parse("f/2.8"),
          Aperture.parse("f/22"));

  private static final PictureLimits PICTURE = PictureLimits.at(Aperture.parse("f/8"));

  private record Outcome(
      List<Evidence> frames, List<Reach> reaches, Decision.Finish finish, BracketPlan plan) {}

  private static Outcome run(PaintedScene scene, BracketGoal goal, PictureLimits picture) {
    BracketPlan plan = new BracketPlan(goal, Latitude.of(CAMERA, picture), scene.noise());
    List<Evidence> frames = new ArrayList<>();
    Decision decision = plan.first(Optional.empty(), Known.NOTHING.withMeter(Optional.of(new Ev(scene.logAverage()))));
    while (decision instanceof Decision.Expose expose) {
      assertTrue(frames.size() < goal.maxFrames(), "never more than the most frames");
      assertTrue(!expose.why().isBlank(), "every choice has its reason");
      frames.add(scene.expose(expose.exposure()));
      decision = plan.next(frames, Optional.empty(), Known.NOTHING);
    }
    List<Reach> reaches =
        frames.stream().map(frame -> frame.reach(scene.noise(), goal.snr())).toList();
    return new Outcome(frames, reaches, (Decision.Finish) decision, plan);
  }

  static LongStream seeds() {
    return LongStream.rangeClosed(1, 120);
  }

  /**
   * Scenes of 1 to 20 stops at brightnesses that the camera can reach: all are covered. Allowed
   * beyond the tolerance: what one bin of a sixth of a stop can hold of a scene of this density,
   * and pixels that noise carries over the edge.
   */
  @ParameterizedTest
  @MethodSource("seeds")
  void coversRandomScenes(long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    double width = 1 + 19 * random.nextDouble();
    double low = -1 + (19 - width) * random.nextDouble();
    PaintedScene scene = PaintedScene.random(seed, low, low + width);
    BracketGoal goal = BracketGoal.USUAL;
    Outcome outcome = run(scene, goal, PICTURE);
    assertEquals(Decision.Ending.COVERED, outcome.finish().ending(), outcome.finish().why());
    assertTrue(
        scene.missedAbove(outcome.reaches()) <= goal.clipTolerance().value() + 0.002,
        "above: " + scene.missedAbove(outcome.reaches()));
    assertTrue(
        scene.missedBelow(outcome.reaches()) <= goal.shadowTolerance().value() + 0.002,
        "below: " + scene.missedBelow(outcome.reaches()));
    assertEquals(0, scene.missedBetween(outcome.reaches()), 1e-9, "no hole");
    double one = scene.noise().width(goal.snr(), Iso.EV_BASE).value();
    // One frame more than tiling needs, and one for a first frame that stood badly.
    assertTrue(
        outcome.frames().size() <= Math.ceil(width / (one - 1.0 / 3)) + 1,
        outcome.frames().size() + " frames for " + width + " stops");
  }

  /** CHECKS: scenes of up to R(10) = 8.77 stops need one frame, of up to twice that two. */
  @ParameterizedTest
  @CsvSource({"4, 1", "8, 2", "12, 3", "16, 3"})
  void needsFewFramesForAUniformScene(double width, int most) {
    PaintedScene scene = PaintedScene.uniform(10 - width / 2, 10 + width / 2);
    assertTrue(run(scene, BracketGoal.USUAL, PICTURE).frames().size() <= most);
  }

  @Test
  void saysWhichLimitLeavesTheBrightEndOpen() {
    PaintedScene scene = PaintedScene.uniform(8, 20);
    Outcome outcome = run(scene, BracketGoal.USUAL, PICTURE.withShortest(Shutter.parse("1/250")));
    assertEquals(Decision.Ending.LIMIT, outcome.finish().ending());
    assertTrue(outcome.finish().why().startsWith("Open above"), outcome.finish().why());
    assertTrue(outcome.finish().why().contains("1/250 s"), outcome.finish().why());
    assertTrue(outcome.finish().why().contains("neutral density"), outcome.finish().why());
  }

  @Test
  void saysWhichLimitLeavesTheDarkEndOpen() {
    PaintedScene scene = PaintedScene.uniform(0, 12);
    Outcome outcome = run(scene, BracketGoal.USUAL, PICTURE.withLongest(Shutter.parse("1/60")));
    assertEquals(Decision.Ending.LIMIT, outcome.finish().ending());
    assertTrue(outcome.finish().why().startsWith("Open below"), outcome.finish().why());
    assertTrue(outcome.finish().why().contains("longer shutter"), outcome.finish().why());
  }

  @Test
  void raisesIsoOnlyWhereTheLongestShutterBinds() {
    PaintedScene scene = PaintedScene.uniform(2, 12);
    PictureLimits limits =
        PICTURE.withLongest(Shutter.parse("1/8")).withHighestIso(Iso.parse("6400"));
    Outcome outcome = run(scene, BracketGoal.USUAL, limits);
    for (Evidence frame : outcome.frames()) {
      boolean raised = frame.exposure().iso().compareTo(Iso.EV_BASE) > 0;
      assertTrue(
          !raised || frame.exposure().shutter().equals(Shutter.parse("1/8")),
          "ISO above base at " + frame.exposure());
    }
  }

  @Test
  void stopsAtTheMostFrames() {
    BracketGoal one = new BracketGoal(10, new Share(0), new Share(0), Stops.THIRD, 1);
    Outcome outcome = run(PaintedScene.uniform(0, 18), one, PICTURE);
    assertEquals(Decision.Ending.MOST_FRAMES, outcome.finish().ending());
    assertEquals(1, outcome.frames().size());
  }

  @Test
  void closesAHoleBetweenTwoFrames() {
    PaintedScene scene = PaintedScene.uniform(1, 21);
    BracketPlan plan =
        new BracketPlan(BracketGoal.USUAL, Latitude.of(CAMERA, PICTURE), NoiseModel.TYPICAL);
    List<Evidence> frames = new ArrayList<>();
    frames.add(scene.expose(plan.latitude().darkest()));
    frames.add(scene.expose(plan.latitude().at(new Ev(6.5), org.scenespan.light.Rounding.NEAREST)));
    SpanEstimate before = SpanEstimate.of(plan.goal(), plan.noise(), frames);
    assertTrue(before.gap().value() > 2, "there is a hole: " + before.gap());
    Decision.Expose expose = assertInstanceOf(Decision.Expose.class, plan.next(frames, Optional.empty(), Known.NOTHING));
    frames.add(scene.expose(expose.exposure()));
    assertEquals(0, SpanEstimate.of(plan.goal(), plan.noise(), frames).gap().value());
  }

  @Test
  void startsTwoStopsUnderTheMeter() {
    BracketPlan plan =
        new BracketPlan(BracketGoal.USUAL, Latitude.of(CAMERA, PICTURE), NoiseModel.TYPICAL);
    Decision.Expose first = (Decision.Expose) plan.first(Optional.empty(), Known.NOTHING.withMeter(Optional.of(new Ev(11))));
    assertEquals(13.0, first.exposure().ev().value(), 1e-9);
  }

  @Test
  void refusesAnOverlapAsWideAsAFrame() {
    BracketGoal goal = new BracketGoal(150, Share.NONE, Share.NONE, new Stops(4), 9);
    IllegalArgumentException refused =
        assertThrows(
            IllegalArgumentException.class,
            () -> new BracketPlan(goal, Latitude.of(CAMERA, PICTURE), NoiseModel.TYPICAL));
    assertTrue(refused.getMessage().contains("overlap"), refused.getMessage());
  }
}

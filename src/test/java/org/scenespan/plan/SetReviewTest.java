package org.scenespan.plan;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.RepeatedTest;
import org.junit.jupiter.api.RepetitionInfo;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.scenespan.frame.NoiseModel;
import org.scenespan.frame.Reach;
import org.scenespan.light.Aperture;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;
import org.scenespan.light.Stops;

class SetReviewTest {
  private static final BracketGoal GOAL = BracketGoal.USUAL;

  private static List<Evidence> shot(PaintedScene scene, String shutters) {
    List<Evidence> frames = new ArrayList<>();
    for (String shutter : shutters.split(" ")) {
      frames.add(
          scene.expose(
              new Exposure(Shutter.parse(shutter), Aperture.ofNominal(8), Iso.ofNominal(100))));
    }
    return frames;
  }

  /**
   * A scene that is uniform from EV 4 to EV 20, and a sensor whose reach at signal-to-noise 10 is
   * 8.77 stops; at f/8 a shutter t reaches up to EV 6 − log2 t + 2.977 − 0.074 [computed]: of 1 s
   * to EV 8.90, of 1/1024 s to 18.90.
   */
  @ParameterizedTest
  @CsvSource({
    // Shutters, open above, hole between, open below, share lost; all in stops but the last.
    "1s 1/256,      3.10, 0, 0,    0.194",
    "1s 1/4096,     0,    3.23, 0, 0.202",
    "1/128 1/2048,  0.10, 0, 3.13, 0.196",
    "1/4096 1s 1/60, 0,   0, 0,    0",
  })
  void saysWhatWasLost(String shutters, double above, double between, double below, double share) {
    List<Evidence> frames = shot(PaintedScene.uniform(4, 20), shutters);
    SetReview review = SetReview.of(GOAL, NoiseModel.TYPICAL, frames);
    assertEquals(above + between + below == 0, review.isCovered(), review.toString());
    for (SetReview.Where where : SetReview.Where.values()) {
      double wanted =
          switch (where) {
            case ABOVE -> above;
            case BETWEEN -> between;
            case BELOW -> below;
          };
      List<SetReview.Loss> losses =
          review.losses().stream().filter(loss -> loss.where() == where).toList();
      assertEquals(wanted > 0 ? 1 : 0, losses.size(), review.toString());
      for (SetReview.Loss loss : losses) {
        // What lies above every frame is only guessed; the rest is told to a bin.
        assertEquals(where == SetReview.Where.ABOVE, loss.guess());
        if (!loss.guess()) {
          assertEquals(wanted, loss.stops().value(), 0.25, loss.toString());
        }
        if (wanted > 1) {
          assertEquals(share, loss.share().value(), 0.02, loss.toString());
        }
      }
    }
  }

  /** The frames that are said to be missing do cover, whatever the scene and whatever was shot. */
  @RepeatedTest(30)
  void whatItWouldHaveTakenCovers(RepetitionInfo repetition) {
    int seed = repetition.getCurrentRepetition();
    PaintedScene scene = PaintedScene.random(seed, 2 + seed % 5, 12 + seed % 9);
    List<String> shutters = List.of("1/15", "1/250", "1/1000", "1/4000", "1s 1/30", "1/8 1/4000");
    List<Evidence> frames = new ArrayList<>(shot(scene, shutters.get(seed % shutters.size())));
    SetReview review = SetReview.of(GOAL, NoiseModel.TYPICAL, frames);
    assertEquals(review.isCovered(), review.missing().isEmpty());
    boolean guess = false;
    for (int round = 0; !review.isCovered() && round < 4; round++) {
      guess |= review.losses().stream().anyMatch(SetReview.Loss::guess);
      for (SetReview.Missing missing : review.missing()) {
        assertEquals(0, missing.beyond().value(), "a shutter does it: " + review);
        frames.add(scene.expose(missing.exposure()));
      }
      review = SetReview.of(GOAL, NoiseModel.TYPICAL, frames);
      assertTrue(guess || review.isCovered(), "what is no guess is right at once: " + review);
    }
    assertTrue(review.isCovered(), review.toString());
    List<Reach> reaches =
        frames.stream().map(it -> it.reach(NoiseModel.TYPICAL, GOAL.snr())).toList();
    // As exactly as the planner itself tells a covered scene: a tail to a tenth of a stop.
    Stops tenth = new Stops(SpanEstimate.TELLS_APART_STOPS);
    List<Reach> told =
        reaches.stream().map(it -> new Reach(it.low().minus(tenth), it.high())).toList();
    assertEquals(0, scene.missedAbove(reaches), GOAL.clipTolerance().value() + 0.002);
    assertEquals(0, scene.missedBelow(told), GOAL.shadowTolerance().value() + 0.002);
    assertEquals(0, scene.missedBetween(reaches), 0.001);
  }

  /** What lies beyond the usual shutters is said in stops: f/8 at 1/8000 s stands at EV 19. */
  @ParameterizedTest
  @CsvSource({"16, 30, 1/8000, 1", "-12, -2, 30s, -1"})
  void saysWhatNoShutterDoes(double low, double high, String end, int sign) {
    List<Evidence> frames = shot(PaintedScene.uniform(low, high), end);
    SetReview review = SetReview.of(GOAL, NoiseModel.TYPICAL, frames);
    SetReview.Missing first = review.missing().get(0);
    assertEquals(Shutter.parse(end), first.exposure().shutter());
    assertTrue(first.beyond().value() * sign > 0.3, review.toString());
  }

  @ParameterizedTest
  @CsvSource({"1/60 1/2 1/4000 1/125, 0", "1s 1/4000, -1"})
  void namesWhatAddsNothing(String shutters, int needless) {
    List<Evidence> frames = shot(PaintedScene.uniform(5, 19), shutters);
    SetReview review = SetReview.of(GOAL, NoiseModel.TYPICAL, frames);
    assertEquals(needless >= 0, review.needless().contains(needless), review.toString());
  }
}

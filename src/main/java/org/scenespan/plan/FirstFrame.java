package org.scenespan.plan;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.scenespan.light.Stops;

/**
 * Where the clip point of a cold start's first frame stands against the meter: the one free choice
 * of a bracket, since afterwards the largest gap-free step is right towards the highlights and the
 * tail is known towards the shadows.
 *
 * <p>For each offset the expected ratio of frames to the fewest possible is summed over the prior
 * on scenes. It has a valley about once a reach, since offsets a reach apart tile a scene alike. Of
 * valleys that are as good the darkest is taken: its first exposure is not longer than the shadows
 * need.
 */
final class FirstFrame {
  /** Valleys closer than this are as good: a frame in a hundred brackets. */
  private static final double SAME_FRAMES = 0.01;

  /** Within a valley the sum over scenes and clicks is rough by this much. */
  private static final double ROUGHNESS = 0.003;

  /** Exposures are set a click apart; offsets are tried half of one apart. */
  private static final double CLICK_STOPS = 1.0 / 3;

  private static final double STEP_STOPS = CLICK_STOPS / 2;

  private static final double DARKEST_OFFSET = 18;

  private static final double NEARLY_ALL = 0.95;

  /** Where the clicks stand against the meter is chance: this many places of it are tried. */
  private static final int PHASES = 4;

  private FirstFrame() {}

  /**
   * The clip point above the meter.
   *
   * @param reach stops that one frame holds
   * @param overlap stops lost at each seam
   * @param deepest stops under its clip point that a frame still tells: the shadows of nearly all
   *     scenes have to lie within them, or the second frame is a guess
   */
  static Stops clipPointOverMeter(Stops reach, Stops overlap, ScenePrior prior, Stops deepest) {
    double most = Math.min(DARKEST_OFFSET, deepest.value() - prior.shadows(NEARLY_ALL));
    double[] ratios = new double[Math.max(0, (int) Math.floor(most / STEP_STOPS)) + 1];
    Ratios tried = new Ratios(reach.value(), overlap.value(), prior);
    Arrays.setAll(ratios, i -> tried.at(i * STEP_STOPS));
    int edge = darkest(ratios, Arrays.stream(ratios).min().orElseThrow() + SAME_FRAMES);
    int bottom = edge;
    while (bottom > 0 && ratios[bottom - 1] <= ratios[bottom]) {
      bottom--;
    }
    int chosen = darkest(ratios, ratios[bottom] + ROUGHNESS);
    return new Stops(Math.min(edge, chosen) * STEP_STOPS);
  }

  private static int darkest(double[] ratios, double most) {
    int index = ratios.length - 1;
    while (ratios[index] > most) {
      index--;
    }
    return index;
  }

  /**
   * Expected frames over the fewest, with the first frame's clip point at the click nearest to an
   * offset.
   */
  static double ratio(double offset, double reach, double overlap, ScenePrior prior) {
    return new Ratios(reach, overlap, prior).at(offset);
  }

  /** The same for many offsets: neighbours share their clicks, and all of them the fewest. */
  private static final class Ratios {
    private final double reach;
    private final double whole;
    private final double up;
    private final double[] highs;
    private final double[] lows;
    private final double[] weights;
    private final double[][] fewest;
    private final List<Map<Long, Double>> known = new ArrayList<>();

    Ratios(double reach, double overlap, ScenePrior prior) {
      this.reach = reach;
      whole = Math.max(CLICK_STOPS, clicksDown(reach));
      up = Math.max(CLICK_STOPS, clicksDown(reach - overlap));
      List<ScenePrior.Ends> scenes = prior.ends();
      highs = scenes.stream().mapToDouble(ScenePrior.Ends::high).toArray();
      lows = scenes.stream().mapToDouble(ScenePrior.Ends::low).toArray();
      weights = scenes.stream().mapToDouble(ScenePrior.Ends::weight).toArray();
      fewest = new double[PHASES][highs.length];
      for (int phase = 0; phase < PHASES; phase++) {
        double click = click(phase);
        for (int i = 0; i < highs.length; i++) {
          double lowest = click + clicksDown(reach - lows[i] - click);
          fewest[phase][i] = 1 + frames(highs[i] - lowest, whole);
        }
        known.add(new HashMap<>());
      }
    }

    private static double click(int phase) {
      return CLICK_STOPS * (phase + 0.5) / PHASES;
    }

    double at(double offset) {
      double sum = 0;
      for (int phase = 0; phase < PHASES; phase++) {
        int place = phase;
        long clicks = (long) Math.rint((offset - click(phase)) / CLICK_STOPS);
        sum += known.get(phase).computeIfAbsent(clicks, key -> sum(place, key));
      }
      return sum / PHASES;
    }

    private double sum(int phase, long clicks) {
      double clip = click(phase) + CLICK_STOPS * clicks;
      double[] least = fewest[phase];
      double sum = 0;
      double high = Double.NaN;
      double above = 0;
      for (int i = 0; i < least.length; i++) {
        // Scenes of one bright end follow each other.
        if (highs[i] != high) {
          high = highs[i];
          above = frames(high - clip, up);
        }
        // What lies between an end of the scene and the first frame is empty: a step leaps over it.
        double under = Math.min(clip - reach, high) + lows[i];
        double below = frames(clicksUp(under), whole);
        sum += weights[i] * (1 + above + below) / least[i];
      }
      return sum;
    }
  }

  private static double frames(double stops, double step) {
    return stops > 0 ? Math.max(0, Math.ceil(stops / step - 1e-9)) : 0;
  }

  private static double clicksDown(double stops) {
    return CLICK_STOPS * Math.floor(stops / CLICK_STOPS + 1e-9);
  }

  private static double clicksUp(double stops) {
    return CLICK_STOPS * Math.ceil(stops / CLICK_STOPS - 1e-9);
  }
}

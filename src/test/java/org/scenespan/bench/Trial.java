package org.scenespan.bench;

import java.time.Duration;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.stream.IntStream;
import org.scenespan.frame.Luminance;
import org.scenespan.frame.MidGrey;
import org.scenespan.frame.NoiseModel;
import org.scenespan.frame.Reach;
import org.scenespan.light.Aperture;
import org.scenespan.light.CameraRange;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Latitude;
import org.scenespan.light.PictureLimits;
import org.scenespan.light.Rounding;
import org.scenespan.light.Share;
import org.scenespan.light.Shutter;
import org.scenespan.light.ShutterLadder;
import org.scenespan.light.Stops;
import org.scenespan.plan.BracketGoal;
import org.scenespan.plan.BracketPlan;
import org.scenespan.plan.CoverSet;
import org.scenespan.plan.Decision;
import org.scenespan.plan.Evidence;
import org.scenespan.plan.Known;
import org.scenespan.plan.Oracle;
import org.scenespan.plan.SpanEstimate;

/**
 * One scene in one light before one camera, with what goes wrong in it; brackets are run on it and
 * held against the optimum.
 *
 * @param wrong what goes wrong
 */
record Trial(TrueScene scene, double snr, double overheadSeconds, int seed, Wrong wrong) {
  static final Latitude LATITUDE =
      Latitude.of(
          new CameraRange(
              ShutterLadder.thirds(Shutter.parse("1/8000"), Shutter.parse("30s")),
              Iso.EV_BASE,
              Iso.EV_BASE,
              Aperture.parse("f/2.8"),
              Aperture.parse("f/22")),
          PictureLimits.at(Aperture.parse("f/8")));

  private static final List<Exposure> GRID =
      IntStream.rangeClosed(-39, 15)
          .mapToObj(k -> new Exposure(Shutter.ofThird(k), Aperture.parse("f/8"), Iso.EV_BASE))
          .toList();

  /** What goes wrong. */
  enum Wrong {
    NOTHING("as it should be"),
    SHUTTER("shutter off by up to 0.1 stop"),
    NOISE("noise figures off by 20 %"),
    DRIFT("light drifts 0.1 stop a minute");

    final String words;

    Wrong(String words) {
      this.words = words;
    }
  }

  /** A bracket's frames: commanded exposures, and stops by which the light of each was off. */
  record Shots(List<Exposure> exposures, List<Double> off, boolean covered, int wasted) {
    double seconds(double overhead) {
      return exposures.stream().mapToDouble(e -> e.shutter().seconds() + overhead).sum();
    }
  }

  /**
   * Shares of the picture, and stops.
   *
   * @param below whose luminance or brightest channel lies in no frame's reach, as the optimum
   *     counts it
   * @param belowBest whose luminance is below the asked signal-to-noise in every single frame that
   *     clips none of their channels
   * @param belowMerged likewise in all such frames together
   * @param clippedInAll beyond the tolerance
   * @param overshoot stops by which the longest exposure is longer than the dark end needs
   */
  record Quality(
      double below, double belowBest, double belowMerged, double clippedInAll, double overshoot) {}

  private SplittableRandom random(int part) {
    return new SplittableRandom(seed * 1_000_003L + part * 7919L + scene.name().hashCode());
  }

  /** Where the log average stands: from a lit room to open daylight, by the seed. */
  Ev average() {
    return new Ev(6 + 7 * random(0).nextDouble());
  }

  BracketGoal goal() {
    BracketGoal usual = BracketGoal.USUAL;
    return new BracketGoal(
        snr, usual.clipTolerance(), usual.shadowTolerance(), usual.overlap(), 30);
  }

  /** Every exposure that the camera can take, the darkest first. */
  static List<Exposure> grid() {
    return GRID;
  }

  Oracle.Frame frame(Exposure exposure) {
    Reach reach = NoiseModel.TYPICAL.reach(exposure, snr);
    return new Oracle.Frame(
        reach.low().value(), reach.high().value(), exposure.shutter().seconds());
  }

  Oracle oracle() {
    return new Oracle(GRID.stream().map(this::frame).toList(), overheadSeconds);
  }

  double[] required() {
    return scene.required(
        average(),
        scene.low(goal().shadowTolerance().value()),
        scene.high(goal().clipTolerance().value()));
  }

  BracketPlan plan() {
    SplittableRandom random = random(1);
    NoiseModel sensor = NoiseModel.TYPICAL;
    NoiseModel told =
        wrong != Wrong.NOISE
            ? sensor
            : new NoiseModel(
                sensor.fullWell() * (0.8 + 0.4 * random.nextDouble()),
                sensor.readNoise() * (0.8 + 0.4 * random.nextDouble()),
                sensor.bits(),
                sensor.baseIso());
    return new BracketPlan(goal(), LATITUDE, told);
  }

  /** What an earlier bracket at this place, with other noise, found. */
  Optional<Known.EarlierSpan> earlier() {
    List<Evidence> frames = new ArrayList<>();
    new Trial(scene, snr, overheadSeconds, seed, Wrong.NOTHING)
        .run(Optional.empty(), random(2), frames);
    SpanEstimate span = SpanEstimate.of(goal(), NoiseModel.TYPICAL, frames);
    return Optional.of(new Known.EarlierSpan(span.low(), span.high(), "the last bracket"));
  }

  Shots run(Optional<Known.EarlierSpan> earlier) {
    return run(earlier, random(3), new ArrayList<>());
  }

  private Shots run(
      Optional<Known.EarlierSpan> earlier, SplittableRandom random, List<Evidence> frames) {
    BracketPlan plan = plan();
    Known known = new Known(Optional.of(average()), false, earlier);
    List<Exposure> exposures = new ArrayList<>();
    List<Double> off = new ArrayList<>();
    Optional<Duration> overhead = Optional.of(Duration.ofMillis((long) (1000 * overheadSeconds)));
    double elapsed = 0;
    Decision decision = plan.first(Optional.empty(), known);
    while (decision instanceof Decision.Expose expose) {
      double light =
          switch (wrong) {
            case SHUTTER -> 0.2 * random.nextDouble() - 0.1;
            case DRIFT -> -0.1 * elapsed / 60;
            default -> 0;
          };
      exposures.add(expose.exposure());
      off.add(light);
      frames.add(
          Evidence.of(
              expose.exposure(),
              TrueCamera.expose(
                  scene, average(), NoiseModel.TYPICAL, expose.exposure(), light, random)));
      elapsed += overheadSeconds + expose.exposure().shutter().seconds();
      decision = plan.next(frames, overhead, known);
    }
    boolean covered = ((Decision.Finish) decision).ending() == Decision.Ending.COVERED;
    int wasted = frames.size() - CoverSet.of(goal(), plan.noise(), frames).size();
    return new Shots(exposures, off, covered, wasted);
  }

  /** Frames around the meter at even steps. */
  Shots fixed(int frames, double steps) {
    List<Exposure> exposures = new ArrayList<>();
    for (int i = 0; i < frames; i++) {
      Ev ev = average().plus(new Stops((i - (frames - 1) / 2.0) * steps));
      exposures.add(LATITUDE.at(ev, Rounding.NEAREST));
    }
    return known(exposures);
  }

  /** The whole range of the camera, as far apart as reaches join. */
  Shots tiling() {
    double step = NoiseModel.TYPICAL.width(snr, Iso.EV_BASE).value();
    List<Exposure> exposures = new ArrayList<>();
    for (double ev = LATITUDE.darkest().ev().value();
        ev > LATITUDE.brightest().ev().value() - step + 0.34;
        ev -= Math.floor(step * 3) / 3) {
      exposures.add(LATITUDE.at(new Ev(ev), Rounding.NEAREST));
    }
    return known(exposures);
  }

  /**
   * The scene's ends known, covered greedily from the bright end by the range of codes (down to
   * signal-to-noise 1) without a thought for noise, after Barakat, Hone &amp; Darcie 2008.
   */
  Shots byCodes() {
    double width = NoiseModel.TYPICAL.width(1, Iso.EV_BASE).value();
    double low = average().value() + scene.low(goal().shadowTolerance().value());
    double high = average().value() + scene.high(goal().clipTolerance().value());
    List<Exposure> exposures = new ArrayList<>();
    double top = high;
    do {
      Ev clip = new Ev(top - NoiseModel.ceilingStops().value() - MidGrey.BELOW_SATURATION.value());
      Exposure exposure = LATITUDE.at(clip, Rounding.DARKER);
      exposures.add(exposure);
      top = NoiseModel.TYPICAL.reach(exposure, 1).low().value();
    } while (top > low && exposures.size() < 30 && width > 0);
    return known(exposures);
  }

  private Shots known(List<Exposure> exposures) {
    return new Shots(exposures, exposures.stream().map(e -> 0.0).toList(), covers(exposures), 0);
  }

  /** Whether every bin that can be served is. */
  boolean covers(List<Exposure> exposures) {
    List<Reach> reaches = exposures.stream().map(e -> NoiseModel.TYPICAL.reach(e, snr)).toList();
    List<Reach> grid = GRID.stream().map(e -> NoiseModel.TYPICAL.reach(e, snr)).toList();
    return Arrays.stream(required())
        .filter(bin -> isServed(bin, grid))
        .allMatch(bin -> isServed(bin, reaches));
  }

  private static boolean isServed(double bin, List<Reach> reaches) {
    return reaches.stream()
        .anyMatch(
            reach ->
                bin >= reach.low().value() - 0.001
                    && bin + Oracle.BIN_STOPS <= reach.high().value() + 0.001);
  }

  /** What the frames hold of the true scene, pixel by pixel. */
  Quality quality(Shots shots) {
    NoiseModel noise = NoiseModel.TYPICAL;
    double well = noise.saturation(Iso.EV_BASE);
    int count = shots.exposures.size();
    double[] perUnit = new double[count];
    for (int i = 0; i < count; i++) {
      double stops =
          average().value() - MidGrey.saturation(shots.exposures.get(i)).value() + shots.off.get(i);
      perUnit[i] = well * Math.pow(2, stops);
    }
    double low = Math.pow(2, scene.low(goal().shadowTolerance().value()));
    double high = Math.pow(2, scene.high(goal().clipTolerance().value()));
    long below = 0;
    long best = 0;
    long merged = 0;
    long clipped = 0;
    for (double[] row : scene.rgb()) {
      for (int x = 0; x < row.length; x += 3) {
        double y = Luminance.of(row[x], row[x + 1], row[x + 2]);
        double most = Math.max(row[x], Math.max(row[x + 1], row[x + 2]));
        boolean levelHeld = false;
        boolean topHeld = false;
        double greatest = 0;
        double squares = 0;
        boolean anyHolds = false;
        for (int i = 0; i < count; i++) {
          levelHeld |= isHeld(y * perUnit[i], well);
          topHeld |= isHeld(most * perUnit[i], well);
          if (most * perUnit[i] <= NoiseModel.HEADROOM * well * 1.0001) {
            double reached = noise.snr(y * perUnit[i], Iso.EV_BASE);
            greatest = Math.max(greatest, reached);
            squares += reached * reached;
            anyHolds = true;
          }
        }
        clipped += anyHolds ? 0 : 1;
        if (y >= low && most <= high) {
          below += levelHeld && topHeld ? 0 : 1;
          best += greatest < snr ? 1 : 0;
          merged += squares < snr * snr ? 1 : 0;
        }
      }
    }
    double pixels = scene.pixels();
    double dark = average().value() + scene.low(goal().shadowTolerance().value());
    double deepest =
        shots.exposures.stream()
            .map(e -> noise.reach(e, snr).low())
            .min(Comparator.naturalOrder())
            .orElseThrow()
            .value();
    return new Quality(
        below / pixels,
        best / pixels,
        merged / pixels,
        Math.max(0, clipped / pixels - goal().clipTolerance().value()),
        Math.max(0, dark - deepest));
  }

  private boolean isHeld(double electrons, double well) {
    return electrons <= NoiseModel.HEADROOM * well * 1.0001
        && NoiseModel.TYPICAL.snr(electrons, Iso.EV_BASE) >= snr;
  }

  static Share tolerance() {
    return BracketGoal.USUAL.shadowTolerance();
  }
}

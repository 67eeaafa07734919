package org.scenespan.plan.ramp;

import java.util.Arrays;
import org.scenespan.light.Ev;

/**
 * The slow light of the scene, as the frames so far tell it: a bank of courses, and before it a
 * judge of whether a frame shows the slow light at all or a cloud, a lamp, lightning. Immutable.
 */
final class LightTrack {
  private static final double NOISE_FIRST = 0.06 * 0.06;
  private static final double NOISE_LEAST = 0.03 * 0.03;
  private static final double NOISE_MOST = 0.08 * 0.08;
  private static final double NOISE_LEARNING = 0.02;

  /**
   * Frames on end that lean to one side tell that the light leaves its course: their mean, in
   * standard deviations, is taken over so many frames and at least so long.
   */
  private static final double LEAN_FRAMES = 6;

  private static final double LEAN_SECONDS = 120;

  /** How many of its own standard deviations that mean may reach by chance. */
  private static final double LEAN_MOST = 4.5;

  /** How much less sure level (stop²) and slope (stop²/s²) are then. */
  private static final double LEFT_LEVEL = 0.03 * 0.03;

  private static final double LEFT_SLOPE = Math.pow(0.04 / 60, 2);

  /** A shade that lasts longer than broken cloud's is the light now. */
  private static final double LASTING_SHADE_SECONDS = 300;

  /** Nothing but the light itself is brighter for so long. */
  private static final double LASTING_BRIGHT_SECONDS = 60;

  /** Fewer frames than this prove nothing. */
  private static final int LASTING_FRAMES = 4;

  /** How many of the latest frames a new level is taken from. */
  private static final int RECENT = 8;

  private static final double MOVED_VARIANCE = 0.1 * 0.1;

  /** A departure that was seen before a cloud need not go on behind it: seconds that it lasts. */
  private static final double BLIND_SLOPE_LASTS = 60;

  /** Over a longer time the sun's altitude is no straight line. */
  private static final double FAMILY_SECONDS = 7200;

  /** How well the slope is known when the family is drawn anew, stops a second. */
  private static final double SLOPE_SPREAD = 0.01 / 60;

  private final double believed;
  private final Courses known;
  private final CourseBank bank;
  private final double anchored;
  private final CloudOdds odds;
  private final double noise;
  private final double leaning;
  private final Departure departure;

  /**
   * What the latest frames did that were not believed.
   *
   * @param lastSlow when a frame last showed the slow light
   * @param brightSince since when all frames are brighter
   * @param frames how many were not believed on end
   * @param brightFrames how many of them on end were brighter
   * @param offs the latest frames' distance from the track, the oldest first
   */
  private record Departure(
      double lastSlow, double brightSince, int frames, int brightFrames, double[] offs) {
    static Departure none(double seconds) {
      return new Departure(seconds, seconds, 0, 0, new double[0]);
    }

    Departure after(double seconds, boolean slow, double off) {
      double[] latest =
          offs.length < RECENT
              ? Arrays.copyOf(offs, offs.length + 1)
              : Arrays.copyOfRange(offs, 1, RECENT + 1);
      latest[latest.length - 1] = off;
      boolean bright = !slow && off > 0;
      return new Departure(
          slow ? seconds : lastSlow,
          bright ? brightSince : seconds,
          slow ? 0 : frames + 1,
          bright ? brightFrames + 1 : 0,
          latest);
    }

    boolean lasts(double seconds) {
      return seconds - lastSlow > LASTING_SHADE_SECONDS && frames >= LASTING_FRAMES
          || brightens(seconds);
    }

    boolean brightens(double seconds) {
      return seconds - brightSince >= LASTING_BRIGHT_SECONDS && brightFrames >= LASTING_FRAMES;
    }

    double middle(int count) {
      int from = Math.max(0, offs.length - count);
      double[] latest = Arrays.copyOfRange(offs, from, offs.length);
      Arrays.sort(latest);
      int half = latest.length / 2;
      return latest.length % 2 == 1 ? latest[half] : (latest[half - 1] + latest[half]) / 2;
    }
  }

  private LightTrack(
      double believed,
      Courses known,
      CourseBank bank,
      double anchored,
      CloudOdds odds,
      double noise,
      double leaning,
      Departure departure) {
    this.believed = believed;
    this.known = known;
    this.bank = bank;
    this.anchored = anchored;
    this.odds = odds;
    this.noise = noise;
    this.leaning = leaning;
    this.departure = departure;
  }

  /**
   * Before any frame.
   *
   * @param known the course where the place is known, else null
   */
  static LightTrack start(Ev believed, Courses known) {
    return new LightTrack(
        believed.value(), known, null, 0, CloudOdds.UNKNOWN, NOISE_FIRST, 0, Departure.none(0));
  }

  LightTrack after(double seconds, double value) {
    if (bank == null) {
      Courses courses = known == null ? Courses.unknown(seconds) : known;
      return new LightTrack(
          believed,
          known,
          CourseBank.start(courses, seconds, value),
          seconds,
          odds,
          noise,
          0,
          Departure.none(seconds));
    }
    double step = seconds - bank.seconds();
    if (!(step > 0)) {
      return this;
    }
    boolean isBlind = departure.frames() > 0;
    CourseBank moved = bank.until(seconds, isBlind ? BLIND_SLOPE_LASTS : Double.POSITIVE_INFINITY);
    CourseBank.Surprise surprise = moved.surprise(value, noise);
    CloudOdds seen = odds.after(step).given(surprise.mean(), surprise.density());
    double belief = seen.slow();
    CourseBank next = moved.after(value, noise, belief, surprise);
    double told = surprise.mean() * surprise.mean() * noise / (moved.variance() + noise);
    double learned =
        Math.max(
            NOISE_LEAST,
            Math.min(NOISE_MOST, noise + (belief > 0.8 ? NOISE_LEARNING * (told - noise) : 0)));
    double z = surprise.mean() / Math.sqrt(moved.variance() + noise);
    double share = Math.min(1 / LEAN_FRAMES, 1 - Math.exp(-step / LEAN_SECONDS));
    double lean = leaning + belief * share * (z - leaning);
    if (Math.abs(lean) > LEAN_MOST * Math.sqrt(share / (2 - share))) {
      next = next.moved(0, LEFT_LEVEL, LEFT_SLOPE);
      lean = 0;
    }
    CloudOdds kept = seen.open();
    Departure gone = departure.after(seconds, belief > 0.5, surprise.mean());
    double anchor = anchored;
    if (gone.lasts(seconds)) {
      next =
          next.moved(
              gone.middle(gone.brightens(seconds) ? LASTING_FRAMES : RECENT),
              MOVED_VARIANCE,
              CourseBank.FIRST_SLOPE);
      lean = 0;
      gone = Departure.none(seconds);
      kept = CloudOdds.UNKNOWN;
    }
    if (known == null && seconds - anchored > FAMILY_SECONDS) {
      next = next.on(Courses.unknown(seconds), SLOPE_SPREAD);
      anchor = seconds;
    }
    return new LightTrack(believed, known, next, anchor, kept, learned, lean, gone);
  }

  /** Whether a frame was read at all. */
  boolean isSeen() {
    return bank != null;
  }

  /** How long no frame was read. */
  double blindSeconds(double seconds) {
    return seconds - (bank == null ? 0 : bank.seconds());
  }

  /** How far the latest frame is off the slow light, where it is not believed to show it. */
  double departure() {
    return departure.frames() == 0 ? 0 : departure.offs()[departure.offs().length - 1];
  }

  double at(double seconds) {
    if (bank != null) {
      return bank.at(seconds);
    }
    if (known == null) {
      return believed;
    }
    double[] light = new double[1];
    double[] first = new double[1];
    known.at(seconds, light);
    known.at(0, first);
    return believed + light[0] - first[0];
  }

  /** How fast the slow light goes, stops a second. */
  double rate(double seconds) {
    return (at(seconds + 30) - at(seconds - 30)) / 60;
  }
}

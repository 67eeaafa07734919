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

  /** A shade that lasts longer than broken cloud's is the light now. */
  private static final double LASTING_SHADE_SECONDS = 300;

  /** Nothing but the light itself is brighter for so long. */
  private static final double LASTING_BRIGHT_SECONDS = 60;

  /** Fewer frames than this prove nothing. */
  private static final int LASTING_FRAMES = 4;

  /** How many of the latest frames a new level is taken from. */
  private static final int RECENT = 8;

  /** A departure that was seen before a cloud need not go on behind it: seconds that it lasts. */
  private static final double BLIND_SLOPE_LASTS = 60;

  /** Over a longer time the sun's altitude is no straight line. */
  private static final double FAMILY_SECONDS = 7200;

  private final double believed;
  private final LightForecast known;
  private final CourseBank bank;
  private final double anchored;
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
      LightForecast known,
      CourseBank bank,
      double anchored,
      double noise,
      double leaning,
      Departure departure) {
    this.believed = believed;
    this.known = known;
    this.bank = bank;
    this.anchored = anchored;
    this.noise = noise;
    this.leaning = leaning;
    this.departure = departure;
  }

  /**
   * Before any frame.
   *
   * @param known what the place foretells where it is known, else null
   */
  static LightTrack start(Ev believed, LightForecast known) {
    return new LightTrack(believed.value(), known, null, 0, NOISE_FIRST, 0, Departure.none(0));
  }

  LightTrack after(double seconds, double value) {
    if (bank == null) {
      return new LightTrack(
          believed,
          known,
          CourseBank.start(courses(seconds), seconds, value),
          seconds,
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
    double off = moved.off(value);
    CourseBank next = moved.given(value, noise);
    double belief = next.belief();
    double spread = moved.variance() + noise;
    double told = off * off * noise / spread;
    double learned =
        Math.max(
            NOISE_LEAST,
            Math.min(NOISE_MOST, noise + (belief > 0.8 ? NOISE_LEARNING * (told - noise) : 0)));
    double z = off / Math.sqrt(spread);
    double share = Math.min(1 / LEAN_FRAMES, 1 - Math.exp(-step / LEAN_SECONDS));
    double lean = leaning + belief * share * (z - leaning);
    if (Math.abs(lean) > LEAN_MOST * Math.sqrt(share / (2 - share))) {
      next = next.loosened();
      lean = 0;
    }
    Departure gone = departure.after(seconds, belief > 0.5, off);
    double anchor = anchored;
    if (gone.lasts(seconds)) {
      next = next.moved(gone.middle(gone.brightens(seconds) ? LASTING_FRAMES : RECENT));
      lean = 0;
      gone = Departure.none(seconds);
    }
    if (seconds - anchored > FAMILY_SECONDS) {
      next = next.on(courses(seconds));
      anchor = seconds;
    }
    return new LightTrack(believed, known, next, anchor, learned, lean, gone);
  }

  private Courses courses(double anchorSeconds) {
    return known == null ? Courses.unknown(anchorSeconds) : Courses.known(known, anchorSeconds);
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
    return believed + known.at(seconds).value() - known.at(0).value();
  }

  /** How fast the slow light goes, stops a second. */
  double rate(double seconds) {
    return (at(seconds + 30) - at(seconds - 30)) / 60;
  }
}

package org.scenespan.plan.settings;

import java.util.Locale;
import org.scenespan.light.AiryDisk;
import org.scenespan.light.Aperture;
import org.scenespan.light.DepthOfField;
import org.scenespan.light.Distance;
import org.scenespan.light.Exposure;
import org.scenespan.light.FocalLength;
import org.scenespan.light.Iso;
import org.scenespan.light.Movement;
import org.scenespan.light.SensorFormat;
import org.scenespan.light.Shutter;
import org.scenespan.light.Stars;
import org.scenespan.light.Stops;

/** One thing that the picture is to have, and by how many stops an exposure falls short of it. */
public sealed interface Wish {
  /** What is wished, as the subject of a sentence: {@code the depth of field}. */
  String name();

  /**
   * How far an exposure falls short.
   *
   * @return stops by which its aperture, shutter or ISO misses; 0 or less where it holds
   */
  Stops shortfall(Exposure exposure);

  /** What the exposure does for the wish, in words; true whether it holds or not. */
  String outcome(Exposure exposure);

  /** The stops by which one time is longer than another. */
  private static Stops longer(double seconds, double than) {
    return Double.isInfinite(than) ? new Stops(-99) : Stops.ofRatio(seconds / than);
  }

  /**
   * Everything from near to far is sharp.
   *
   * @param near the nearest that is to be sharp
   * @param far the farthest
   */
  record Depth(FocalLength lens, SensorFormat sensor, Distance near, Distance far) implements Wish {
    public Depth {
      DepthOfField.holding(lens, sensor.circleMillimetres(), near, far);
    }

    public DepthOfField.Holding holding() {
      return DepthOfField.holding(lens, sensor.circleMillimetres(), near, far);
    }

    @Override
    public String name() {
      return "the depth of field";
    }

    @Override
    public Stops shortfall(Exposure exposure) {
      return new Stops(
          2 * Stops.ofRatio(holding().number() / exposure.aperture().number()).value());
    }

    @Override
    public String outcome(Exposure exposure) {
      DepthOfField field =
          new DepthOfField(
              lens, exposure.aperture(), sensor.circleMillimetres(), holding().focus());
      boolean holds = Settings.holds(shortfall(exposure));
      // What passes by less than a twentieth of a stop is told as wished, not as "1.21 m to 240 m".
      Distance nearest = holds && field.near().compareTo(near) > 0 ? near : field.near();
      Distance farthest = holds && field.far().compareTo(far) < 0 ? far : field.far();
      return (holds ? "holds " : "sharp only from ")
          + nearest
          + " to "
          + farthest
          + ", focused at "
          + field.focus();
    }
  }

  /**
   * Diffraction blurs no point wider than what passes for one: the Airy disk within the circle of
   * confusion.
   *
   * @param circleMillimetres the largest that still passes for a point
   */
  record FineDetail(double circleMillimetres) implements Wish {
    public FineDetail {
      AiryDisk.number(circleMillimetres);
    }

    @Override
    public String name() {
      return "the fine detail";
    }

    @Override
    public Stops shortfall(Exposure exposure) {
      double most = AiryDisk.number(circleMillimetres);
      return new Stops(2 * Stops.ofRatio(exposure.aperture().number() / most).value());
    }

    @Override
    public String outcome(Exposure exposure) {
      return String.format(
          Locale.ROOT,
          "diffraction blurs %s%.0f \u00b5m of the %.0f that pass for a point",
          Settings.holds(shortfall(exposure)) ? "" : "more than it may, ",
          1000 * AiryDisk.millimetres(exposure.aperture()),
          1000 * circleMillimetres);
    }
  }

  /**
   * A moving subject stands still.
   *
   * @param pixels the longest blur that still passes for sharp
   */
  record Freeze(Movement movement, FocalLength lens, SensorFormat sensor, double pixels)
      implements Wish {
    public Freeze {
      movement.longestSeconds(pixels, lens, sensor);
    }

    /** In seconds; infinite for what is so far away that it stands still. */
    public double longestSeconds() {
      return movement.longestSeconds(pixels, lens, sensor);
    }

    @Override
    public String name() {
      return "the frozen subject";
    }

    @Override
    public Stops shortfall(Exposure exposure) {
      return longer(exposure.shutter().seconds(), longestSeconds());
    }

    @Override
    public String outcome(Exposure exposure) {
      double blur = movement.blurPixels(exposure.shutter(), lens, sensor);
      return Settings.holds(shortfall(exposure))
          ? String.format(Locale.ROOT, "the subject is frozen (%.1f px)", blur)
          : String.format(Locale.ROOT, "the subject will blur (%.1f px)", blur);
    }
  }

  /**
   * Sharp without a tripod: the trade's 1/(f·crop) [practice].
   *
   * @param steadierStops what a stabiliser is trusted with, 0 to 8
   */
  record HandHeld(FocalLength lens, SensorFormat sensor, Stops steadierStops) implements Wish {
    public HandHeld {
      if (!(steadierStops.value() >= 0 && steadierStops.value() <= 8)) {
        throw new IllegalArgumentException(
            "stabiliser (" + steadierStops + " stops) must be 0 to 8 stops");
      }
    }

    public double longestSeconds() {
      return steadierStops.ratio() / (lens.millimetres() * sensor.crop());
    }

    @Override
    public String name() {
      return "the steady hand";
    }

    @Override
    public Stops shortfall(Exposure exposure) {
      return longer(exposure.shutter().seconds(), longestSeconds());
    }

    @Override
    public String outcome(Exposure exposure) {
      return Settings.holds(shortfall(exposure)) ? "can be held by hand" : "needs a tripod";
    }
  }

  /**
   * Water runs into silk, or whatever else is to blur.
   *
   * @param least the shortest time that blurs it enough
   * @param subject what blurs: {@code the water}
   */
  record Blur(Shutter least, String subject) implements Wish {
    @Override
    public String name() {
      return "the blur of " + subject;
    }

    @Override
    public Stops shortfall(Exposure exposure) {
      return longer(least.seconds(), exposure.shutter().seconds());
    }

    @Override
    public String outcome(Exposure exposure) {
      return Settings.holds(shortfall(exposure))
          ? subject + " will blur as wished"
          : subject + " will blur too little (wants " + least + ")";
    }
  }

  /**
   * Stars stay points, by the full form.
   *
   * @param declinationDegrees of the stars nearest to the celestial equator
   * @param k 1 for points at full size, 2 for barely seen trails
   */
  record StarPoints(FocalLength lens, SensorFormat sensor, double declinationDegrees, double k)
      implements Wish {
    public StarPoints {
      new Stars(lens, Aperture.ofNominal(8), sensor, declinationDegrees).full(k);
    }

    public double longestSeconds(Aperture aperture) {
      return new Stars(lens, aperture, sensor, declinationDegrees).full(k);
    }

    @Override
    public String name() {
      return "the stars as points";
    }

    @Override
    public Stops shortfall(Exposure exposure) {
      return longer(exposure.shutter().seconds(), longestSeconds(exposure.aperture()));
    }

    @Override
    public String outcome(Exposure exposure) {
      return Settings.holds(shortfall(exposure))
          ? "stars are points"
          : String.format(
              Locale.ROOT,
              "stars will trail (points up to %.1f s)",
              longestSeconds(exposure.aperture()));
    }
  }

  /**
   * Noise stays low enough.
   *
   * @param highest the highest ISO
   */
  record LowNoise(Iso highest) implements Wish {
    @Override
    public String name() {
      return "the low noise";
    }

    @Override
    public Stops shortfall(Exposure exposure) {
      return new Stops(exposure.iso().sv() - highest.sv());
    }

    @Override
    public String outcome(Exposure exposure) {
      return Settings.holds(shortfall(exposure))
          ? exposure.iso() + " is within the noise allowed"
          : exposure.iso() + " is noisier than the " + highest + " allowed";
    }
  }
}

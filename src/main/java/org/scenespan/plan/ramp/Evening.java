package org.scenespan.plan.ramp;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.scenespan.light.Stops;

/**
 * What evens a lapse after the fact, when the past and the future of each frame are known: a gain a
 * frame that leaves only what was meant, smoothed over the whole sequence.
 */
public final class Evening {
  /** The local regression by which flicker is judged looks at so many frames. */
  public static final int REGRESSION_FRAMES = 25;

  /** What was meant is smoothed over so many frames, twice, so that no step of it is left. */
  private static final int MEANT_FRAMES = 90;

  private final List<Frame> frames;
  private final double[] meant;

  /**
   * A frame of the lapse.
   *
   * @param seconds since the lapse's start, rising from frame to frame
   * @param brightness of the photographer's part of the picture against mid grey, where it was read
   * @param wish how bright it was meant to be
   */
  public record Frame(double seconds, Optional<Stops> brightness, Stops wish) {}

  /**
   * How smooth a lapse is.
   *
   * @param sigma the standard deviation of what departs from a local regression over 25 frames
   * @param largest the largest departure
   */
  public record Smoothness(Stops sigma, Stops largest) {}

  private Evening(List<Frame> frames, double[] meant) {
    this.frames = frames;
    this.meant = meant;
  }

  public static Evening of(List<Frame> frames) {
    double[] seconds = new double[frames.size()];
    double[] wishes = new double[frames.size()];
    for (int i = 0; i < frames.size(); i++) {
      seconds[i] = frames.get(i).seconds();
      wishes[i] = frames.get(i).wish().value();
    }
    double[] once = LocalLine.smooth(seconds, wishes, MEANT_FRAMES);
    return new Evening(List.copyOf(frames), LocalLine.smooth(seconds, once, MEANT_FRAMES));
  }

  /** The gain of each frame, to add in development; absent where a frame was not read. */
  public List<Optional<Stops>> gains() {
    List<Optional<Stops>> gains = new ArrayList<>();
    for (int i = 0; i < frames.size(); i++) {
      Stops target = new Stops(meant[i]);
      gains.add(frames.get(i).brightness().map(target::minus));
    }
    return gains;
  }

  /** Root mean square of brightness minus wish, before evening; none where no frame was read. */
  public Optional<Stops> rmsError() {
    double sum = 0;
    int count = 0;
    for (Frame frame : frames) {
      if (frame.brightness().isPresent()) {
        sum += Math.pow(frame.brightness().get().minus(frame.wish()).value(), 2);
        count++;
      }
    }
    return count == 0 ? Optional.empty() : Optional.of(new Stops(Math.sqrt(sum / count)));
  }

  /** The largest brightness minus wish in size, before evening. */
  public Optional<Stops> largestError() {
    return frames.stream()
        .flatMap(it -> it.brightness().map(read -> read.minus(it.wish()).abs()).stream())
        .max(Stops::compareTo);
  }

  /** As taken, without the gains. */
  public Smoothness before() {
    return smoothness(false);
  }

  /** With the gains. */
  public Smoothness evened() {
    return smoothness(true);
  }

  private Smoothness smoothness(boolean withGains) {
    List<Integer> read = new ArrayList<>();
    for (int i = 0; i < frames.size(); i++) {
      if (frames.get(i).brightness().isPresent()) {
        read.add(i);
      }
    }
    double[] seconds = new double[read.size()];
    double[] values = new double[read.size()];
    for (int i = 0; i < seconds.length; i++) {
      Frame frame = frames.get(read.get(i));
      seconds[i] = frame.seconds();
      values[i] = withGains ? meant[read.get(i)] : frame.brightness().get().value();
    }
    return smoothness(seconds, values);
  }

  /** How smooth a series of brightness is. */
  public static Smoothness smoothness(double[] seconds, double[] brightness) {
    double[] smooth = LocalLine.smooth(seconds, brightness, REGRESSION_FRAMES);
    double sum = 0;
    double largest = 0;
    for (int i = 0; i < smooth.length; i++) {
      double off = brightness[i] - smooth[i];
      sum += off * off;
      largest = Math.max(largest, Math.abs(off));
    }
    double sigma = smooth.length == 0 ? 0 : Math.sqrt(sum / smooth.length);
    return new Smoothness(new Stops(sigma), new Stops(largest));
  }
}

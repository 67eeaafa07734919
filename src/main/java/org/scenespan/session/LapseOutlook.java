package org.scenespan.session;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;
import org.scenespan.light.Exposure;
import org.scenespan.plan.ramp.Ramp;
import org.scenespan.plan.ramp.RampChoice;

/**
 * What a lapse is going to do if the light goes on as it is expected to, for whoever looks on. Each
 * frame that is read changes it.
 *
 * @param coming exposures over the places that are left, thinned; ascending in time
 * @param change the first of the coming shots with another shutter or ISO, if one is in sight
 */
public record LapseOutlook(List<RampChoice> coming, Optional<RampChoice> change) {
  /** Exposures that are shown of what is left. */
  private static final int MOST_SHOWN = 240;

  /** Places that are looked through for the next change of a setting. */
  private static final int MOST_LOOKED_THROUGH = 720;

  /** What the frames alone tell holds for so long, seconds: then the sun is elsewhere. */
  private static final double FORESIGHT_SECONDS = 3600;

  /** Settings that differ by less than this are the same: decimals. */
  private static final double SAME_STOPS = 1e-4;

  /** Nothing is known of what comes. */
  private static final LapseOutlook NONE = new LapseOutlook(List.of(), Optional.empty());

  public LapseOutlook {
    coming = List.copyOf(coming);
  }

  /** What a state lets expect; nothing of a session that is no lapse, has not begun, or is over. */
  public static LapseOutlook of(State state) {
    Optional<Ramp> ramp = state.lapse().ramp();
    if (ramp.isEmpty() || state.isClosed()) {
      return NONE;
    }
    LapseSetup setup = (LapseSetup) state.opened();
    double interval = setup.cadence().intervalSeconds();
    int next = state.lapse().lastPlace() + 1;
    int left = setup.cadence().frames() - state.lapse().lastPlace();
    int seen =
        setup.sky().isPresent()
            ? left
            : (int) Math.min(left, Math.ceil(FORESIGHT_SECONDS / interval));
    if (seen <= 0) {
      return NONE;
    }
    List<RampChoice> near =
        ramp.get().ahead(due(next, Math.min(seen, MOST_LOOKED_THROUGH), 1, interval));
    int stride = (seen + MOST_SHOWN - 1) / MOST_SHOWN;
    List<RampChoice> coming =
        stride == 1
            ? near
            : ramp.get().ahead(due(next, (seen + stride - 1) / stride, stride, interval));
    Optional<Exposure> now = last(state.lapse());
    Optional<RampChoice> change =
        near.stream()
            .filter(each -> now.isPresent() && differ(now.get(), each.exposure()))
            .findFirst();
    return new LapseOutlook(coming, change);
  }

  /** The instant that the start stands for under the sun; empty where the place is not known. */
  public static Optional<Instant> sunStart(State state) {
    if (!state.isLapse()) {
      return Optional.empty();
    }
    return ((LapseSetup) state.opened())
        .sky()
        .flatMap(sky -> sky.from().or(() -> state.lapse().start()));
  }

  private static double[] due(int first, int count, int stride, double interval) {
    return IntStream.range(0, count)
        .mapToDouble(i -> (first - 1 + i * stride) * interval)
        .toArray();
  }

  private static Optional<Exposure> last(LapseRun run) {
    List<LapseShot> shots = run.shots();
    return shots.isEmpty() ? Optional.empty() : Optional.of(shots.get(shots.size() - 1).exposure());
  }

  private static boolean differ(Exposure one, Exposure other) {
    return Math.abs(one.shutter().tv() - other.shutter().tv()) > SAME_STOPS
        || Math.abs(one.iso().sv() - other.iso().sv()) > SAME_STOPS;
  }
}

package org.scenespan.plan.hand;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.scenespan.light.Aperture;
import org.scenespan.light.Exposure;
import org.scenespan.light.Stops;

/**
 * What a hand has to turn in front of a reference frame: settings that are wrong at once, with the
 * way back; an exposure that is off only when it stays so for some frames, by the aperture, since a
 * flash heeds no shutter. A fold over the frames since the reference frame: the same frames give
 * the same words.
 */
public final class Studio {
  /** So many frames in a row are no accident [practice]. */
  static final int HOLDS = 3;

  /** Below it nobody turns a dial, stops. */
  private final double worth;

  private final Hand hand;
  private Exposure target;
  private double compensation;
  private Optional<Frame> before = Optional.empty();
  private boolean outstanding;
  private final List<Double> off = new ArrayList<>();
  private Optional<Advice> latest = Optional.empty();

  /**
   * One frame.
   *
   * @param exposure what it was taken with
   * @param compensation that it was taken with
   * @param deviation brighter than the reference frame
   */
  public record Frame(
      Optional<Exposure> exposure, Optional<Stops> compensation, Optional<Stops> deviation) {}

  private Studio(Hand hand, Stops worth, Exposure reference, Stops compensation) {
    this.hand = hand;
    this.worth = Math.max(worth.value(), 0.5 / hand.clicksAStop());
    this.target = reference;
    this.compensation = compensation.value();
  }

  /**
   * @param worth from which deviation on something is told; less than half a click is none
   * @param reference the reference frame
   * @param since the frames that were held against it, the oldest first
   * @return what the last of them calls for; absent where the photographer goes on as before
   */
  public static Optional<Advice> advice(
      Hand hand, Stops worth, Frame reference, List<Frame> since) {
    if (reference.exposure.isEmpty()) {
      return Optional.empty();
    }
    Studio studio =
        new Studio(
            hand, worth, reference.exposure.get(), reference.compensation.orElse(Stops.ZERO));
    for (Frame frame : since) {
      studio.take(frame);
    }
    return studio.latest;
  }

  private void take(Frame frame) {
    latest = Optional.empty();
    if (frame.exposure.isEmpty()) {
      return;
    }
    if (isAsWanted(frame)) {
      if (outstanding) {
        latest =
            Optional.of(new Advice(List.of(), "Right: " + shown(frame) + ". Leave the dials."));
        outstanding = false;
        off.clear();
      } else {
        drift(frame);
      }
    } else if (!outstanding || !isAsBefore(frame)) {
      String wrong =
          outstanding
              ? "That was " + shown(frame) + ", not what was asked. "
              : "Set otherwise than for the reference frame. ";
      outstanding = true;
      off.clear();
      latest = Optional.of(back(frame, wrong));
    }
    before = Optional.of(frame);
  }

  private boolean isAsWanted(Frame frame) {
    double half = 0.5 / hand.clicksAStop() + 1e-6;
    if (hand.meters()) {
      return Math.abs(stands(frame) - compensation) <= half;
    }
    return isSame(frame.exposure.orElseThrow(), target, half);
  }

  private boolean isAsBefore(Frame frame) {
    double half = 0.5 / hand.clicksAStop() + 1e-6;
    return before.isPresent()
        && (hand.meters()
            ? Math.abs(stands(frame) - stands(before.get())) <= half
            : isSame(frame.exposure.orElseThrow(), before.get().exposure.orElseThrow(), half));
  }

  private static boolean isSame(Exposure one, Exposure other, double half) {
    return Math.abs(one.shutter().tv() - other.shutter().tv()) <= half
        && Math.abs(one.aperture().av() - other.aperture().av()) <= half
        && Math.abs(one.iso().sv() - other.iso().sv()) <= half;
  }

  private static double stands(Frame frame) {
    return frame.compensation.orElse(Stops.ZERO).value();
  }

  private String shown(Frame frame) {
    return hand.meters()
        ? "exposure compensation " + Advice.signed(stands(frame))
        : frame.exposure.orElseThrow().toString();
  }

  private void drift(Frame frame) {
    double stops = frame.deviation.map(Stops::value).orElse(0.0);
    if (Math.abs(stops) < worth
        || !off.isEmpty() && Math.signum(off.get(0)) != Math.signum(stops)) {
      off.clear();
    }
    if (Math.abs(stops) >= worth) {
      off.add(stops);
    }
    if (off.size() < HOLDS) {
      return;
    }
    double held = off.stream().mapToDouble(Double::doubleValue).average().orElseThrow();
    int clicks = (int) Math.rint(-held * hand.clicksAStop());
    off.clear();
    if (clicks == 0) {
      return;
    }
    double brighter = (double) clicks / hand.clicksAStop();
    if (hand.meters()) {
      compensation = stands(frame) + brighter;
    } else {
      Exposure now = frame.exposure.orElseThrow();
      double number = now.aperture().number() * Math.pow(2, -brighter / 2);
      target = new Exposure(now.shutter(), new Aperture(number), now.iso());
    }
    outstanding = true;
    latest =
        Optional.of(
            back(
                frame,
                String.format(
                    Locale.ROOT,
                    "The last %d frames are %.1f stop %s than the reference frame. ",
                    HOLDS,
                    Math.abs(held),
                    held > 0 ? "brighter" : "darker")));
  }

  /** From where the dials are to where they should be. */
  private Advice back(Frame frame, String why) {
    List<DialTurn> turns;
    if (hand.meters()) {
      double by = compensation - stands(frame);
      int clicks = (int) Math.rint(by * hand.clicksAStop());
      turns =
          List.of(
              new DialTurn(
                  DialTurn.Dial.COMPENSATION,
                  Math.max(1, Math.abs(clicks)),
                  by > 0,
                  Advice.signed(compensation)));
    } else {
      turns = Advice.turn(hand, frame.exposure.orElseThrow(), frame.compensation, target).turns();
    }
    return new Advice(turns, why + String.join(" ", turns.stream().map(DialTurn::words).toList()));
  }
}

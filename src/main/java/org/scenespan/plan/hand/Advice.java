package org.scenespan.plan.hand;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.scenespan.light.Aperture;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;
import org.scenespan.light.Stops;

/**
 * What a hand has to do for the next frame.
 *
 * @param turns of dials, one after the other; none where the dials stand right
 * @param words all of it, in sentences
 */
public record Advice(List<DialTurn> turns, String words) {
  public Advice {
    turns = List.copyOf(turns);
  }

  /** Before anything is known of where the dials are. */
  public static Advice first(Hand hand, Optional<Exposure> wanted, Aperture aperture, Iso iso) {
    String words =
        switch (hand.mode()) {
          case MANUAL ->
              wanted
                  .map(it -> "Set " + it + ", and take a frame.")
                  .orElse(
                      "Set "
                          + aperture
                          + " and "
                          + iso
                          + ", turn the shutter until the camera's own meter stands in the middle,"
                          + " and take a frame.");
          case APERTURE_PRIORITY ->
              "Set " + aperture + ", " + iso + " and exposure compensation 0, and take a frame.";
          case SHUTTER_PRIORITY ->
              "Set the shutter that you want, "
                  + iso
                  + " and exposure compensation 0, and take a frame.";
          case AUTOMATIC_ISO ->
              "Set the shutter that you want, "
                  + aperture
                  + ", automatic ISO and exposure compensation 0, and take a frame.";
        };
    return new Advice(List.of(), words);
  }

  /**
   * From where the dials are, by the last frame's own metadata, to where they should be.
   *
   * @param from what the last frame was taken with
   * @param compensation that it was taken with; taken as 0 where the file does not say
   */
  public static Advice turn(
      Hand hand, Exposure from, Optional<Stops> compensation, Exposure wanted) {
    return hand.meters()
        ? compensated(hand, from, compensation.orElse(Stops.ZERO), wanted)
        : manual(hand, from, wanted);
  }

  /**
   * What the next frame can come to where the camera meters: as far as compensation goes, or the
   * wanted itself where it goes that far, or where it is at its end already.
   */
  public static Ev within(Hand hand, Exposure from, Optional<Stops> compensation, Ev wanted) {
    double stands = compensation.orElse(Stops.ZERO).value();
    double wish = stands + from.ev().minus(wanted).value();
    double limit = hand.compensation().value();
    double held = Math.max(-limit, Math.min(limit, wish));
    boolean ends = Math.abs(wish - held) >= 0.5 / hand.clicksAStop();
    boolean moves = clicks(held - stands, hand.clicksAStop()) != 0;
    return hand.meters() && ends && moves ? from.ev().minus(new Stops(held - stands)) : wanted;
  }

  private static Advice manual(Hand hand, Exposure from, Exposure wanted) {
    List<DialTurn> turns = new ArrayList<>();
    double clicks = hand.clicksAStop();
    int aperture = clicks(wanted.aperture().av() - from.aperture().av(), clicks);
    if (aperture != 0) {
      turns.add(
          new DialTurn(
              DialTurn.Dial.APERTURE,
              Math.abs(aperture),
              aperture < 0,
              wanted.aperture().toString()));
    }
    int shutter = clicks(from.shutter().tv() - wanted.shutter().tv(), clicks);
    if (shutter != 0) {
      turns.add(
          new DialTurn(
              DialTurn.Dial.SHUTTER, Math.abs(shutter), shutter > 0, name(from, shutter, clicks)));
    }
    int iso = clicks(wanted.iso().sv() - from.iso().sv(), clicks);
    if (iso != 0) {
      turns.add(new DialTurn(DialTurn.Dial.ISO, Math.abs(iso), iso > 0, wanted.iso().toString()));
    }
    return turns.isEmpty()
        ? new Advice(turns, "The dials stand right: take another frame.")
        : new Advice(turns, sentences(turns) + " Then take a frame.");
  }

  private static Advice compensated(Hand hand, Exposure from, Stops stands, Exposure wanted) {
    // A bigger EV is a darker exposure, more compensation a brighter one.
    double wish = stands.value() + from.ev().minus(wanted.ev()).value();
    double limit = hand.compensation().value();
    double held = Math.max(-limit, Math.min(limit, wish));
    int clicks = clicks(held - stands.value(), hand.clicksAStop());
    List<DialTurn> turns = new ArrayList<>();
    if (clicks != 0) {
      double to = stands.value() + (double) clicks / hand.clicksAStop();
      turns.add(new DialTurn(DialTurn.Dial.COMPENSATION, Math.abs(clicks), clicks > 0, signed(to)));
    }
    double missing = Math.abs(wish - held);
    if (missing >= 0.5 / hand.clicksAStop()) {
      return new Advice(
          List.of(),
          String.format(
              Locale.ROOT,
              "Exposure compensation ends %.1f stops short of it: set the camera to manual, %s, and"
                  + " take a frame.",
              missing,
              wanted));
    }
    return turns.isEmpty()
        ? new Advice(turns, "The dials stand right: take another frame.")
        : new Advice(turns, sentences(turns) + " Then take a frame.");
  }

  private static String sentences(List<DialTurn> turns) {
    return String.join(" ", turns.stream().map(DialTurn::words).toList());
  }

  private static int clicks(double stops, double clicksAStop) {
    return (int) Math.rint(stops * clicksAStop);
  }

  /** What a shutter dial shows so many clicks on; between the thirds' names, about what. */
  private static String name(Exposure from, int clicks, double clicksAStop) {
    double seconds = from.shutter().seconds() * Math.pow(2, clicks / clicksAStop);
    Shutter exact = new Shutter(seconds);
    if (exact.third().isPresent()) {
      return exact.toString();
    }
    return seconds < 0.3
        ? "about 1/" + twoDigits(1 / seconds) + " s"
        : String.format(Locale.ROOT, "about %.1f s", seconds);
  }

  private static long twoDigits(double value) {
    double unit = Math.pow(10, Math.max(0, Math.floor(Math.log10(value)) - 1));
    return (long) (Math.rint(value / unit) * unit);
  }

  /** What a compensation dial shows: {@code +0.7}. */
  public static String signed(double stops) {
    double tenth = Math.rint(stops * 10) / 10;
    return tenth == 0 ? "0" : String.format(Locale.ROOT, "%+.1f", tenth).replace('-', '\u2212');
  }

  /** The stops that a compensation dial shows, of {@link #signed}. */
  public static double compensation(String shown) {
    return Double.parseDouble(shown.replace('\u2212', '-'));
  }
}

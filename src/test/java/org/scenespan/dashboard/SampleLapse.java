package org.scenespan.dashboard;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.function.LongConsumer;
import org.scenespan.frame.FrameMeasure;
import org.scenespan.frame.FrameMetadata;
import org.scenespan.frame.FrameReading;
import org.scenespan.frame.FrameSource;
import org.scenespan.frame.LogHistogram;
import org.scenespan.frame.PixelCounts;
import org.scenespan.frame.Region;
import org.scenespan.frame.Steadiness;
import org.scenespan.light.Aperture;
import org.scenespan.light.CameraRange;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.PictureLimits;
import org.scenespan.light.Rounding;
import org.scenespan.light.Shutter;
import org.scenespan.light.ShutterLadder;
import org.scenespan.light.Stops;
import org.scenespan.plan.ramp.LightForecast;
import org.scenespan.plan.ramp.RampChoice;
import org.scenespan.plan.ramp.Wish;
import org.scenespan.session.Event;
import org.scenespan.session.Gear;
import org.scenespan.session.LapseSetup;
import org.scenespan.session.LapseShot;
import org.scenespan.session.Match;
import org.scenespan.session.Patience;
import org.scenespan.session.Session;
import org.scenespan.session.State;
import org.scenespan.session.Stopped;
import org.scenespan.sky.Place;
import org.scenespan.wire.EventJson;
import org.scenespan.wire.JournalRecord;

/**
 * A lapse through a sunrise as its records: the ramp's own exposures, frames of a few pixels that
 * follow the clear sky's light. Seconds of it take no time.
 */
final class SampleLapse implements Records {
  static final Instant START = Instant.parse("2026-06-01T02:15:00Z");
  private static final Place PLACE = new Place(46.5, 8.0);

  private final List<JournalRecord> lines = new ArrayList<>();
  private final List<LongConsumer> listeners = new CopyOnWriteArrayList<>();
  private final LapseSoFar soFar = new LapseSoFar();
  private final LapseAhead ahead = new LapseAhead();
  private final LapseSetup setup;
  private State state = State.EMPTY;
  private Instant now = START;
  private int places;
  private boolean folding = true;

  SampleLapse(int frames, Duration interval) {
    setup =
        new LapseSetup(
            "dawn",
            "test",
            new Gear("reference-trigger", "", "frames", false, Optional.empty()),
            new CameraRange(
                ShutterLadder.thirds(Shutter.parse("1/8000"), Shutter.parse("30s")),
                Iso.parse("100"),
                Iso.parse("6400"),
                Aperture.parse("f/1.4"),
                Aperture.parse("f/22")),
            PictureLimits.at(Aperture.parse("f/2.8")).withHighestIso(Iso.parse("6400")),
            new LapseSetup.Cadence(interval, interval.dividedBy(10), frames),
            Region.WHOLE,
            Wish.usual(),
            Optional.of(new Ev(-6)),
            Optional.of(new LapseSetup.Sky(PLACE, Optional.empty())),
            Patience.USUAL);
    record(new Event.SessionOpened(Session.VERSION, setup));
    record(new Event.TriggerGreeted("test trigger"));
    record(new Event.LapseBegan(START, new Ev(-6)));
  }

  void record(Event event) {
    long seq;
    synchronized (lines) {
      seq = lines.size() + 1L;
      JournalRecord record = new JournalRecord(seq, now, event);
      if (folding) {
        state = event.applyTo(state, now);
      }
      soFar.take(record);
      lines.add(record);
    }
    listeners.forEach(listener -> listener.accept(seq));
  }

  /** Takes so many frames one after the other; now is a moment after the last. */
  void take(int count) {
    for (int i = 0; i < count; i++) {
      shoot();
      frame();
    }
  }

  /** The same without a ramp: a light that rises evenly, and what nobody would ask of its state. */
  void takeQuickly(int count) {
    folding = false;
    for (int i = 0; i < count; i++) {
      places++;
      double seconds = setup.cadence().interval().toMillis() / 1000.0 * (places - 1);
      now = START.plus(Duration.ofMillis(Math.round(seconds * 1000)));
      Ev light =
          new Ev(-5 + 20.0 * places / setup.cadence().frames() + 0.2 * Math.sin(places / 9.0));
      Exposure exposure = setup.latitude().at(light, Rounding.NEAREST);
      record(
          new Event.ShotRamped(
              places, places, seconds, exposure, Stops.ZERO, light, light, false, "It rises."));
      record(new Event.ShotCommanded(places, 1, exposure));
      record(new Event.ShotConfirmed(places));
      record(matched(places, exposure, light.minus(exposure.ev())));
    }
    folding = true;
  }

  /** Commands the next shot. */
  void shoot() {
    places++;
    double seconds = setup.cadence().interval().toMillis() / 1000.0 * (places - 1);
    now = START.plus(Duration.ofMillis(Math.round(seconds * 1000)));
    RampChoice choice = state.lapse().ramp().orElseThrow().next(seconds);
    int shot = places;
    record(
        new Event.ShotRamped(
            shot,
            places,
            seconds,
            choice.exposure(),
            choice.wish(),
            choice.forecast(),
            choice.wanted(),
            false,
            choice.why()));
    record(new Event.ShotCommanded(shot, 1, choice.exposure()));
    record(new Event.ShotConfirmed(shot));
  }

  /** The frame of the last shot comes. */
  void frame() {
    List<LapseShot> shots = state.lapse().shots();
    LapseShot last = shots.get(shots.size() - 1);
    double seconds = setup.cadence().interval().toMillis() / 1000.0 * (places - 1);
    Exposure exposure = last.shot().exposure();
    record(
        matched(last.shot().number(), exposure, new Stops(light(seconds) - exposure.ev().value())));
  }

  private Event matched(int shot, Exposure exposure, Stops brightness) {
    return new Event.FrameMatched(
        shot,
        Match.Proof.EXPOSURE,
        false,
        exposure,
        Optional.of(brightness),
        Optional.empty(),
        Optional.empty(),
        Steadiness.UNKNOWN,
        reading(String.format(Locale.ROOT, "S_%05d.JPG", places)));
  }

  /** Three stops over the ground's, as the sky is, with a slow ripple. */
  private static double light(double seconds) {
    return LightForecast.clearSky(PLACE, START).at(seconds).value()
        + 3
        + 0.1 * Math.sin(seconds / 400);
  }

  void lose() {
    record(new Event.ShotLost(state.lapse().lastShot(), "no frame of it came within 20 s"));
  }

  void end() {
    record(
        new Event.LapseReport(
            "lapse",
            Stopped.DONE,
            "All frames have come.",
            10,
            List.of(),
            Optional.of(new Stops(0.104)),
            Optional.of(new Stops(0.27)),
            new Stops(0.09),
            new Stops(0.2),
            new Stops(0.0041),
            new Stops(0.0103),
            54,
            1,
            0,
            3600));
  }

  int size() {
    return lines.size();
  }

  State state() {
    return state;
  }

  private static FrameReading reading(String file) {
    LogHistogram.Builder builder = new LogHistogram.Builder();
    builder.add(0.02, 700);
    builder.add(0.3, 300);
    LogHistogram histogram = builder.build();
    FrameMeasure measure =
        new FrameMeasure(
            6000,
            4000,
            FrameSource.FULL,
            1000,
            new PixelCounts(4, 4, 0, 4),
            PixelCounts.NONE,
            histogram,
            histogram,
            histogram,
            histogram,
            histogram,
            0.01);
    return new FrameReading(
        file,
        "jpeg",
        new FrameMetadata(
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            1,
            Optional.empty()),
        measure,
        Optional.empty(),
        Optional.of(
            new FrameReading.Pictures("preview-" + file + ".jpg", "mask-" + file + ".png")));
  }

  @Override
  public List<String> since(long seq) {
    synchronized (lines) {
      int end = (int) Math.min(lines.size(), seq + 256);
      return seq >= lines.size()
          ? List.of()
          : lines.subList((int) seq, end).stream().map(EventJson::write).toList();
    }
  }

  @Override
  public void listen(LongConsumer onNewSeq) {
    listeners.add(onNewSeq);
  }

  @Override
  public Optional<String> soFar() {
    return soFar.json(now.plusMillis(1_200));
  }

  @Override
  public Optional<String> ahead() {
    return ahead.json(state, now.plusMillis(1_200));
  }
}

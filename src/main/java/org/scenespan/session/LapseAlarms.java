package org.scenespan.session;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/** The alarms of a lapse beside that of frames that do not arrive: raised, and ended when over. */
record LapseAlarms(Turn turn) {
  static final String DISOBEYED = "disobeyed";
  static final String SOFT = "soft";
  static final String SHIFTED = "shifted";
  static final String SPACE = "space";
  static final String BATTERY = "battery";

  /** So much longer than needed, before it is said that a battery lasts. */
  private static final double AMPLE = 1.15;

  private LapseRun run() {
    return turn.state().lapse();
  }

  private boolean isOn(String kind) {
    return run().alarms().contains(kind);
  }

  private void raise(String kind, String words, Optional<Instant> since) {
    turn.record(new Event.AlarmRaised(kind, words, since));
  }

  private void end(String kind, String words) {
    turn.record(new Event.AlarmEnded(kind, words));
  }

  /** A frame of the lapse is in. */
  void framed() {
    obedience();
    softness();
    footing();
  }

  private void obedience() {
    Vigil vigil = run().vigil();
    Optional<String> trouble = Obedience.trouble(vigil);
    if (!isOn(DISOBEYED) && trouble.isPresent()) {
      raise(DISOBEYED, trouble.get(), since(vigil, vigil.seen().size() - 3));
    } else if (isOn(DISOBEYED) && Obedience.isOver(vigil)) {
      end(DISOBEYED, "The exposure is obeyed again.");
    }
  }

  private static Optional<Instant> since(Vigil vigil, int index) {
    List<Vigil.Seen> seen = vigil.seen();
    return index >= 0 && index < seen.size()
        ? Optional.of(seen.get(index).due())
        : Optional.empty();
  }

  private void softness() {
    Vigil vigil = run().vigil();
    if (!isOn(SOFT) && Softness.isTrouble(vigil)) {
      raise(
          SOFT,
          "The picture has lost half of its sharpness: look for dew on the front lens, and at the"
              + " focus.",
          since(vigil, vigil.seen().size() - 2 * Vigil.GROUP));
    } else if (isOn(SOFT) && Softness.isOver(vigil)) {
      end(SOFT, "The picture is sharp again.");
    }
  }

  private void footing() {
    Vigil vigil = run().vigil();
    Optional<Vigil.Seen> move = Footing.moved(vigil);
    if (!isOn(SHIFTED) && move.isPresent()) {
      raise(SHIFTED, Footing.words(move.get()), Optional.of(move.get().due()));
    } else if (isOn(SHIFTED) && Footing.isOver(vigil)) {
      end(SHIFTED, "The camera stands still again; the frames from there on are shifted.");
    }
  }

  /** How much room there is. */
  void space(Input.SpaceSeen space) {
    LapseSetup setup = (LapseSetup) turn.state().opened();
    int left = setup.cadence().frames() - run().lastPlace();
    if (!isOn(SPACE) && Supply.isShort(space, left)) {
      raise(SPACE, Supply.words(space, left), Optional.empty());
    } else if (isOn(SPACE) && Supply.isAmple(space, left)) {
      end(SPACE, "The hot folder's disk has room for all frames.");
    }
  }

  /** The trigger said something of its own accord. */
  void noticed() {
    LapseTimes times = new LapseTimes(turn.state());
    LapseSetup setup = (LapseSetup) turn.state().opened();
    if (run().start().isEmpty()) {
      return;
    }
    Duration needed = Duration.between(turn.now(), times.due(setup.cadence().frames()));
    Optional<Duration> lasts =
        Supply.empty(run().vigil().charges()).map(it -> Duration.between(turn.now(), it));
    if (!isOn(BATTERY) && lasts.filter(it -> it.compareTo(needed) < 0).isPresent()) {
      raise(BATTERY, Supply.words(lasts.get(), needed), Optional.empty());
    } else if (isOn(BATTERY)
        && lasts.filter(it -> it.toMillis() < AMPLE * needed.toMillis()).isEmpty()) {
      end(BATTERY, "The trigger's battery will last.");
    }
  }
}

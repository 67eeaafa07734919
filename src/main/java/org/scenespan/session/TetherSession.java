package org.scenespan.session;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.scenespan.frame.Deviation;
import org.scenespan.frame.FrameReading;
import org.scenespan.light.Stops;
import org.scenespan.plan.guard.Finding;
import org.scenespan.plan.guard.Guard;
import org.scenespan.plan.guard.Watched;

/**
 * The rules of a tether: every frame that lands is held against the reference frame; nothing is
 * decided for the photographer. Pure.
 */
final class TetherSession {
  private TetherSession() {}

  static Step open(TetherSetup setup, Instant now) {
    Turn turn = new Turn(State.EMPTY, now);
    turn.record(new Event.SessionOpened(Session.VERSION, setup));
    greet(turn, setup);
    wake(turn);
    return turn.end();
  }

  static Step step(State state, Input input, Instant now) {
    Turn turn = new Turn(state, now);
    if (state.isClosed()) {
      return turn.end();
    }
    take(turn, input);
    if (!turn.state().isClosed()) {
      wake(turn);
    }
    return turn.end();
  }

  private static TetherSetup setup(Turn turn) {
    return (TetherSetup) turn.state().opened();
  }

  private static void greet(Turn turn, TetherSetup setup) {
    if (setup.hasTrigger()) {
      turn.perform(new Effect.Greet());
    }
  }

  private static void wake(Turn turn) {
    due(turn.state()).ifPresent(at -> turn.perform(new Effect.WakeAt(at)));
  }

  private static Optional<Instant> due(State state) {
    TetherSetup setup = (TetherSetup) state.opened();
    Optional<Instant> over =
        setup.longest().flatMap(time -> state.openedAt().map(from -> from.plus(time)));
    Optional<Instant> outage =
        state.folderLostAt().map(since -> since.plus(setup.patience().outage()));
    return Stream.of(over, outage, Releases.due(state))
        .flatMap(Optional::stream)
        .min(Instant::compareTo);
  }

  private static void take(Turn turn, Input input) {
    State state = turn.state();
    if (input instanceof Input.Begun) {
      turn.record(new Event.SessionResumed());
      Releases.withdraw(turn, "the program was started again while it was counted down");
      greet(turn, setup(turn));
      state.tether().reference().ifPresent(marked -> hold(turn, marked));
    } else if (input instanceof Input.FrameMeasured measured) {
      frameMeasured(turn, measured);
    } else if (input instanceof Input.FrameUnreadable unreadable) {
      turn.record(new Event.FrameSkipped(unreadable.file(), unreadable.reason()));
    } else if (input instanceof Input.ReferenceAsked asked) {
      if (state.tether().frame(asked.file()).isPresent()) {
        mark(turn, new Event.ReferenceMarked(asked.file(), asked.patch()));
      }
    } else if (input instanceof Input.MarkAsked asked) {
      if (state.tether().frame(asked.file()).isPresent()) {
        turn.record(CommonRules.marked(asked));
      }
    } else if (input instanceof Input.FolderLost lost) {
      if (state.folderLostAt().isEmpty()) {
        turn.record(new Event.FolderLost(lost.reason()));
      }
    } else if (input instanceof Input.FolderReturned) {
      if (state.folderLostAt().isPresent()) {
        turn.record(new Event.FolderReturned());
      }
    } else if (input instanceof Input.TriggerGreeted greeted) {
      if (state.identity().isEmpty()) {
        turn.record(new Event.TriggerGreeted(greeted.identity()));
      }
    } else if (input instanceof Input.TriggerLost lost) {
      // The photographer's own finger still works: the session goes on without.
      if (state.triggerLostAt().isEmpty()) {
        turn.record(new Event.TriggerLost(lost.reason()));
        Releases.withdraw(turn, "the trigger was lost while it was counted down");
      }
    } else if (input instanceof Input.TriggerNoticed noticed) {
      turn.record(new Event.TriggerNoticed(noticed.kind(), noticed.text()));
    } else if (input instanceof Input.ReleaseAsked asked) {
      Releases.ask(turn, asked.countSeconds());
    } else if (input instanceof Input.WithdrawalAsked) {
      Releases.withdraw(turn, "an operator took it back");
    } else if (input instanceof Input.ReleaseConfirmed confirmed) {
      Releases.answered(turn, confirmed.shot(), new Event.ShotConfirmed(confirmed.shot()));
    } else if (input instanceof Input.ReleaseRefused refused) {
      Releases.answered(
          turn, refused.shot(), new Event.ShotRefused(refused.shot(), refused.reason()));
    } else if (input instanceof Input.ReleaseUnconfirmed unconfirmed) {
      Releases.answered(
          turn,
          unconfirmed.shot(),
          new Event.ShotUnconfirmed(unconfirmed.shot(), unconfirmed.reason()));
    } else if (input instanceof Input.ClockTicked) {
      clockTicked(turn);
      if (!turn.state().isClosed()) {
        Releases.tick(turn);
      }
    } else if (input instanceof Input.StopAsked) {
      close(turn, Stopped.ASKED, "You ended the session.");
    }
  }

  private static void mark(Turn turn, Event.ReferenceMarked marked) {
    turn.record(marked);
    hold(turn, marked);
  }

  private static void hold(Turn turn, Event.ReferenceMarked marked) {
    turn.perform(new Effect.HoldAgainst(marked.file(), marked.patch()));
  }

  private static void frameMeasured(Turn turn, Input.FrameMeasured measured) {
    FrameReading reading = measured.reading();
    State before = turn.state();
    TetherRun run = before.tether();
    int index = run.frames().size() + 1;
    Optional<Event.FrameWatched> earlier = reading.replaces().flatMap(run::frame);
    if (earlier.isPresent()) {
      index = earlier.get().index();
    } else if (isTheSame(run, reading)) {
      // After a restart the folder is looked through anew.
      return;
    } else if (isKnown(run, reading)) {
      turn.record(
          new Event.FrameStray(reading.file(), "a file of this name was already dealt with"));
      return;
    }
    // A frame that was measured before the reference was marked says nothing against it.
    boolean compared =
        run.reference()
            .filter(marked -> measured.against().equals(Optional.of(marked.file())))
            .isPresent();
    Optional<Deviation> deviation = compared ? measured.deviation() : Optional.empty();
    List<Finding> findings = compared ? findings(turn, reading, deviation) : List.of();
    turn.record(new Event.FrameWatched(index, reading, deviation, findings));
    if (earlier.isEmpty()) {
      Releases.credit(turn, before, reading.file(), reading.metadata());
      TetherByHand.advise(turn, setup(turn));
    }
    if (run.reference().isEmpty() && index == 1 && setup(turn).firstIsReference()) {
      mark(turn, new Event.ReferenceMarked(reading.file(), Optional.empty()));
    }
    if (turn.state().tether().frames().size() >= setup(turn).lastFrame()) {
      close(turn, Stopped.DONE, "All " + setup(turn).lastFrame() + " frames have come.");
    }
  }

  /** A file that says when it was taken, as one of its name did: of the same shutter press. */
  private static boolean isTheSame(TetherRun run, FrameReading reading) {
    return reading.metadata().capturedAt().isPresent()
        && run.frames().stream()
            .map(Event.FrameWatched::frame)
            .filter(known -> known.file().equals(reading.file()))
            .anyMatch(
                known -> known.metadata().capturedAt().equals(reading.metadata().capturedAt()));
  }

  /** One that does not may bear the name of an earlier one: nothing tells them apart. */
  private static boolean isKnown(TetherRun run, FrameReading reading) {
    return reading.metadata().capturedAt().isEmpty() && run.frame(reading.file()).isPresent();
  }

  private static List<Finding> findings(
      Turn turn, FrameReading reading, Optional<Deviation> deviation) {
    TetherRun run = turn.state().tether();
    Watched now = new Watched(reading.metadata(), reading.measure(), deviation);
    return run.held()
        .map(reference -> new Guard(setup(turn).levels()).judge(reference, run.memory(), now))
        .orElse(List.of());
  }

  private static void clockTicked(Turn turn) {
    State state = turn.state();
    Duration outage = setup(turn).patience().outage();
    boolean gone =
        state.folderLostAt().map(since -> !turn.now().isBefore(since.plus(outage))).orElse(false);
    boolean over =
        setup(turn)
            .longest()
            .flatMap(time -> state.openedAt().map(from -> !turn.now().isBefore(from.plus(time))))
            .orElse(false);
    if (over) {
      close(turn, Stopped.DONE, "The time that was asked for is over.");
    } else if (gone) {
      close(
          turn,
          Stopped.FRAMES_MISSING,
          "The hot folder was gone for " + outage.toSeconds() + " s.");
    }
  }

  private static void close(Turn turn, Stopped stopped, String why) {
    Releases.withdraw(turn, "the session ended while it was counted down");
    State state = turn.state();
    List<Event.TetherFrame> frames = new ArrayList<>();
    for (Event.FrameWatched frame : state.tether().frames()) {
      frames.add(
          line(frame, Optional.ofNullable(state.tether().marks().get(frame.frame().file()))));
    }
    Instant start = state.openedAt().orElse(turn.now());
    turn.record(
        new Event.TetherReport(
            "tether",
            stopped,
            why,
            state.tether().reference().map(Event.ReferenceMarked::file),
            frames,
            Duration.between(start, turn.now()).toMillis() / 1000.0));
    turn.perform(new Effect.Shut());
  }

  private static Event.TetherFrame line(
      Event.FrameWatched frame, Optional<Event.FrameMarked> mark) {
    Optional<Deviation> deviation = frame.deviation();
    return new Event.TetherFrame(
        frame.index(),
        frame.frame().file(),
        frame.frame().metadata().shutter(),
        frame.frame().metadata().aperture(),
        frame.frame().metadata().iso(),
        deviation.map(Deviation::exposure),
        deviation.map(it -> stops(it.redToGreen())),
        deviation.map(it -> stops(it.blueToGreen())),
        frame.findings().stream().map(it -> it.kind().label()).toList(),
        mark.map(Event.FrameMarked::mark).orElse(Mark.NONE),
        mark.map(Event.FrameMarked::note).orElse(""));
  }

  private static Stops stops(double ratioLessOne) {
    return Stops.ofRatio(1 + ratioLessOne);
  }
}

package org.scenespan.control;

import java.io.IOException;
import java.net.InetAddress;
import java.security.SecureRandom;
import java.util.List;
import java.util.Optional;
import java.util.function.Supplier;
import org.scenespan.dashboard.Acts;
import org.scenespan.dashboard.Dashboard;
import org.scenespan.dashboard.Pairing;
import org.scenespan.dashboard.Pictures;
import org.scenespan.frame.Patch;
import org.scenespan.journal.Sessions;
import org.scenespan.session.Input;
import org.scenespan.session.Mark;
import org.scenespan.session.Releases;
import org.scenespan.session.State;
import org.scenespan.wire.JournalRecord;

/** The page of a session: what it is shown of it, and where what it asks for goes. */
final class SessionPage {
  /** Chance in each code and token, bytes. */
  private static final int CHANCE_BYTES = 32;

  private final Workbench bench;
  private final Supplier<Optional<Running>> session;

  private final PageRecords records;

  /**
   * @param soFar the records that the journal has already; they are not kept
   * @param session once it runs
   */
  SessionPage(Workbench bench, List<JournalRecord> soFar, Supplier<Optional<Running>> session) {
    this.bench = bench;
    this.session = session;
    this.records = new PageRecords(bench, soFar, this::state);
  }

  /** Opens it on the loopback address. */
  Dashboard open(int port) throws IOException {
    return new Dashboard(port, records, new Asked(), pictures());
  }

  /** Opens it to other machines, which have to enter a code. */
  Dashboard open(InetAddress bound, int port) throws IOException {
    SecureRandom chance = new SecureRandom();
    Pairing pairing = new Pairing(SteadyClock.ofSystem(), () -> drawn(chance));
    return new Dashboard(bound, port, records, new Asked(), pictures(), pairing);
  }

  /** Tells it what is on disk now. */
  void published(List<JournalRecord> newest) {
    records.published(newest);
  }

  private static byte[] drawn(SecureRandom chance) {
    byte[] bytes = new byte[CHANCE_BYTES];
    chance.nextBytes(bytes);
    return bytes;
  }

  private Pictures pictures() {
    return new FrameDetails(Sessions.previews(bench.directory()), bench.folder(), this::state);
  }

  private State state() {
    return session.get().map(Running::state).orElse(bench.state());
  }

  /** What the page asks for, handed to the session; without effect before it runs. */
  private final class Asked implements Acts {
    private void ask(Input wish) {
      session.get().ifPresent(running -> running.ask(wish));
    }

    @Override
    public void hold() {
      ask(new Input.HoldAsked());
    }

    @Override
    public void goOn() {
      ask(new Input.ContinueAsked());
    }

    @Override
    public void reference(String file, Optional<Patch> patch) {
      ask(new Input.ReferenceAsked(file, patch));
    }

    @Override
    public void mark(String file, Mark mark, String note) {
      ask(new Input.MarkAsked(file, mark, note));
    }

    @Override
    public Optional<String> release(int countSeconds) {
      Optional<String> refusal =
          Releases.refusal(session.get().map(Running::state).orElse(State.EMPTY));
      if (refusal.isEmpty()) {
        ask(new Input.ReleaseAsked(countSeconds));
      }
      return refusal;
    }

    @Override
    public void withdraw() {
      ask(new Input.WithdrawalAsked());
    }

    @Override
    public void stop() {
      ask(new Input.StopAsked());
    }
  }
}

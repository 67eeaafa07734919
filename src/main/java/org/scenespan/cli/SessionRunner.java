package org.scenespan.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.net.InetAddress;
import java.nio.charset.Charset;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import org.scenespan.control.Feed;
import org.scenespan.control.OpenedSession;
import org.scenespan.dashboard.Dashboard;
import org.scenespan.dashboard.Invitation;
import org.scenespan.session.State;
import picocli.CommandLine.Model.CommandSpec;

/** Runs an opened session in front of a terminal and perhaps a page. */
final class SessionRunner {
  /** How long a page gets to fetch the last record. */
  private static final long LAST_LOOK_MILLIS = 500;

  /** What the terminal understands; of what it does not, question marks would be left. */
  private static final Charset NATIVE =
      Charset.forName(System.getProperty("native.encoding", Charset.defaultCharset().name()));

  private final PrintWriter out;
  private final PrintWriter err;
  private final boolean json;

  SessionRunner(CommandSpec spec, boolean json) {
    this.out = spec.commandLine().getOut();
    this.err = spec.commandLine().getErr();
    this.json = json;
  }

  /**
   * @param realTime whether a rehearsal takes the time that a real session would
   * @param stay whether the page is left open until the program is interrupted
   * @return the exit code
   */
  int run(OpenedSession session, PageOption page, boolean realTime, boolean stay)
      throws IOException, InterruptedException {
    page.check();
    return page.wanted() ? withPage(session, page, stay) : watched(session, realTime, List.of());
  }

  private int withPage(OpenedSession session, PageOption page, boolean stay)
      throws IOException, InterruptedException {
    try (Dashboard dashboard = opened(session, page)) {
      // Records own standard output; whoever reads them is not to trip over an address.
      PrintWriter told = json ? err : out;
      told.println("Dashboard: " + dashboard.address());
      dashboard.invitation().ifPresent(invitation -> invite(told, invitation));
      if (page.hasGuests()) {
        dashboard.guestLink(NATIVE.newEncoder().canEncode('▀')).forEach(told::println);
      }
      told.flush();
      int code = watched(session, true, List.of());
      if (stay) {
        told.println("The page stays open until you press Ctrl-C.");
        told.flush();
        new CountDownLatch(1).await();
      }
      new CountDownLatch(1).await(LAST_LOOK_MILLIS, TimeUnit.MILLISECONDS);
      return code;
    }
  }

  private static Dashboard opened(OpenedSession session, PageOption page) throws IOException {
    Optional<InetAddress> lan = page.lan();
    return lan.isPresent()
        ? session.dashboard(lan.get(), page.port())
        : session.dashboard(page.port());
  }

  private static void invite(PrintWriter told, Invitation invitation) {
    invitation.words().forEach(told::println);
    if (NATIVE.newEncoder().canEncode('▀')) {
      invitation.drawing().forEach(told::println);
    }
  }

  private int watched(OpenedSession session, boolean realTime, List<Feed> more)
      throws IOException, InterruptedException {
    List<Feed> feeds = new ArrayList<>(more);
    feeds.add(new Telling(out, json, System.console() != null && !json));
    AtomicBoolean running = new AtomicBoolean(true);
    Thread goodbye =
        new Thread(
            () -> {
              if (running.get()) {
                err.println(
                    "scenespan: interrupted; go on with: scenespan sessions resume "
                        + session.name());
                err.flush();
              }
            });
    Runtime.getRuntime().addShutdownHook(goodbye);
    try {
      State end = session.run(realTime, feeds);
      return ExitCode.of(end.report().orElseThrow());
    } finally {
      running.set(false);
      removeHook(goodbye);
    }
  }

  private static void removeHook(Thread hook) {
    try {
      Runtime.getRuntime().removeShutdownHook(hook);
    } catch (IllegalStateException shuttingDown) {
      // It has run already.
    }
  }
}

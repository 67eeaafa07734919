package org.scenespan.dashboard;

import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.SocketAddress;
import java.time.Duration;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.BiPredicate;
import org.eclipse.jetty.io.Connection;
import org.eclipse.jetty.util.thread.Scheduler;

/**
 * Keeps connections from loitering: one that has no request under way and has not completed another
 * one within the patience is closed, however many bytes it drips. The server counts an answer as
 * given when its head is: so an event stream has to be named here as long as it is open.
 */
final class Doorstep implements Connection.Listener {
  /** Connections from elsewhere at once; one more is closed. Those of this machine do not count. */
  static final int MOST_REMOTE_CONNECTIONS = 512;

  private final Scheduler scheduler;
  private final Duration patience;
  private final BiPredicate<InetAddress, InetAddress> isLocal;
  private final AtomicInteger remote = new AtomicInteger();
  private final Set<SocketAddress> streaming = ConcurrentHashMap.newKeySet();

  Doorstep(Scheduler scheduler, Duration patience, BiPredicate<InetAddress, InetAddress> isLocal) {
    this.scheduler = scheduler;
    this.patience = patience;
    this.isLocal = isLocal;
  }

  @Override
  public void onOpened(Connection connection) {
    if (!isLocal(connection) && remote.incrementAndGet() > MOST_REMOTE_CONNECTIONS) {
      connection.getEndPoint().close();
      return;
    }
    watch(connection, -1);
  }

  @Override
  public void onClosed(Connection connection) {
    if (!isLocal(connection)) {
      remote.decrementAndGet();
    }
  }

  /** A stream goes to this address from now on: its connection is left open. */
  void stay(SocketAddress theirs) {
    streaming.add(theirs);
  }

  /** The stream to this address has ended. */
  void leave(SocketAddress theirs) {
    streaming.remove(theirs);
  }

  private void watch(Connection connection, long before) {
    scheduler.schedule(() -> look(connection, before), patience.toNanos(), TimeUnit.NANOSECONDS);
  }

  private void look(Connection connection, long before) {
    if (!connection.getEndPoint().isOpen()) {
      return;
    }
    long begun = connection.getMessagesIn();
    boolean underWay =
        begun > connection.getMessagesOut()
            || streaming.contains(connection.getEndPoint().getRemoteSocketAddress());
    // A new connection gets one patience, one between two requests at most two.
    if (!underWay && (begun == 0 || begun == before)) {
      connection.getEndPoint().close();
      return;
    }
    watch(connection, begun);
  }

  private boolean isLocal(Connection connection) {
    InetAddress ours = addressOf(connection.getEndPoint().getLocalSocketAddress());
    InetAddress theirs = addressOf(connection.getEndPoint().getRemoteSocketAddress());
    return ours != null && theirs != null && isLocal.test(ours, theirs);
  }

  private static InetAddress addressOf(SocketAddress address) {
    return address instanceof InetSocketAddress inet ? inet.getAddress() : null;
  }
}

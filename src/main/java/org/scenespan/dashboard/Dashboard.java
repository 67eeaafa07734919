package org.scenespan.dashboard;

import com.fasterxml.jackson.databind.node.TextNode;
import io.javalin.Javalin;
import io.javalin.config.JavalinConfig;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import io.javalin.http.HttpResponseException;
import io.javalin.http.staticfiles.Location;
import java.io.IOException;
import java.net.InetAddress;
import java.net.UnknownHostException;
import java.security.SecureRandom;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;
import java.util.function.BiPredicate;
import java.util.logging.Level;
import java.util.logging.Logger;
import org.eclipse.jetty.server.Connector;
import org.eclipse.jetty.util.thread.QueuedThreadPool;

/**
 * The page of one session, served to this machine alone or, with a pairing, to paired browsers
 * elsewhere. It shows the journal and hands wishes on; it holds no state of the session itself.
 */
public final class Dashboard implements AutoCloseable {
  /** The longest silence on an event stream: half of what the page takes for a dead one. */
  private static final Duration PULSE = Duration.ofSeconds(10);

  /** Short requests, pictures on a slow line, Jetty's own acceptor and selectors. No streams. */
  static final int MOST_THREADS = 32;

  /** How long a connection may take for the head of a request. */
  private static final Duration HEAD_PATIENCE = Duration.ofSeconds(10);

  /** The header that brings a code: a header is logged by nobody, and is read without a thread. */
  static final String CODE_HEADER = "X-Scenespan-Code";

  private static final SecureRandom CHANCE = new SecureRandom();
  private static final InetAddress LOOPBACK = loopback();

  // Held: java.util.logging forgets the level of a logger that nobody holds.
  private static final Logger JAVALIN_LOG = Logger.getLogger("io.javalin");
  private static final Logger JETTY_LOG = Logger.getLogger("org.eclipse.jetty");

  private final Pairing pairing;
  private final Guests guests;
  private final InetAddress bound;
  private final Feed feed;
  private final Javalin server;
  private final FirstRequests firstRequests;
  private volatile Doorstep doorstep;
  private volatile Door door;

  /**
   * Opens the page on the loopback address 127.0.0.1.
   *
   * @param port 0 takes a free one
   * @throws IOException if the port cannot be had
   */
  public Dashboard(int port, Records records, Acts acts, Pictures pictures) throws IOException {
    this(port, records, acts, pictures, new Reach(LOOPBACK, null));
  }

  /**
   * From where the page can be reached.
   *
   * @param bound the address to listen on; the wildcard address for all
   * @param pairing lets browsers in that are not on this machine; null only for the loopback
   * @param isLocal whether a connection between our address and theirs stays on this machine
   * @param patience how long a connection may take for the head of a request
   */
  record Reach(
      InetAddress bound,
      Pairing pairing,
      BiPredicate<InetAddress, InetAddress> isLocal,
      Duration patience) {
    /** Both ends are looked at: a neighbour can send packets to 127.0.0.1, but not from it. */
    Reach(InetAddress bound, Pairing pairing) {
      this(
          bound,
          pairing,
          (ours, theirs) -> ours.isLoopbackAddress() && theirs.isLoopbackAddress(),
          HEAD_PATIENCE);
    }
  }

  /**
   * Opens the page on an address that others can reach. Whoever is not on this machine has to enter
   * a code first.
   *
   * @param bound the address to listen on; the wildcard address for all
   * @param port 0 takes a free one
   * @throws IOException if the port cannot be had
   */
  public Dashboard(
      InetAddress bound, int port, Records records, Acts acts, Pictures pictures, Pairing pairing)
      throws IOException {
    this(port, records, acts, pictures, new Reach(bound, Objects.requireNonNull(pairing)));
  }

  Dashboard(int port, Records records, Acts acts, Pictures pictures, Reach reach)
      throws IOException {
    if (!(port >= 0 && port <= 65_535)) {
      throw new IllegalArgumentException("port (" + port + ") must be 0 to 65535");
    }
    // A port that is taken is told to the caller, not to the log.
    JAVALIN_LOG.setLevel(Level.OFF);
    JETTY_LOG.setLevel(Level.WARNING);
    this.pairing = reach.pairing();
    this.guests = new Guests(Dashboard::chance, pictures);
    this.bound = reach.bound();
    this.feed = new Feed(records, UUID.randomUUID().toString(), PULSE);
    this.server =
        Javalin.create(
            config -> {
              configure(config);
              routes(config.routes, records, acts, pictures);
            });
    try {
      server.start(bound.getHostAddress(), port);
    } catch (RuntimeException e) {
      server.stop();
      throw new IOException("port " + port + " of " + bound.getHostAddress() + " cannot be had", e);
    }
    JAVALIN_LOG.setLevel(Level.WARNING);
    Connector connector = server.jettyServer().server().getConnectors()[0];
    this.doorstep = new Doorstep(connector.getScheduler(), reach.patience(), reach.isLocal());
    connector.addBean(doorstep);
    feed.start();
    this.door = new Door(server.port(), pairing, reach.isLocal());
    this.firstRequests = new FirstRequests(address());
  }

  public int port() {
    return server.port();
  }

  /** Where a browser of this machine finds the page. */
  public String address() {
    InetAddress ours = bound.isAnyLocalAddress() ? LOOPBACK : bound;
    return Invitation.addressesOf(ours, port()).get(0);
  }

  /** What brings browsers of other machines here; empty if none can come. */
  public Optional<Invitation> invitation() {
    return Optional.ofNullable(pairing)
        .map(
            codes ->
                new Invitation(
                    Invitation.addressesOf(bound, port()),
                    codes.operatorCode(),
                    codes.viewerCode()));
  }

  /** The link to the guest page and its drawing, in lines; makes it where there is none. */
  public List<String> guestLink(boolean drawn) {
    String secret = guests.open();
    String link = GuestDoor.link(addressNearby(), secret);
    List<String> lines = new ArrayList<>(List.of("Guest page:      " + link));
    if (drawn) {
      lines.addAll(QrDrawing.lines(link));
    }
    return lines;
  }

  private static byte[] chance() {
    byte[] bytes = new byte[32];
    CHANCE.nextBytes(bytes);
    return bytes;
  }

  /**
   * Where the caller's neighbours find the page: as the caller does, if it is not on this machine.
   */
  private String addressFor(Context ctx) {
    return currentDoor().isLocal(ctx) ? addressNearby() : "http://" + ctx.header("Host") + "/";
  }

  /** Where this machine's neighbours find the page, or it alone if none can come. */
  private String addressNearby() {
    return invitation().stream()
        .flatMap(each -> each.addresses().stream())
        .findFirst()
        .orElse(address());
  }

  /** Every route that answers, as METHOD and path. */
  List<String> routes() {
    return server.unsafe.internalRouter.allHttpHandlers().stream()
        .map(each -> each.endpoint.method + " " + each.endpoint.path)
        .toList();
  }

  /** Ends the event streams that are open, as a network that breaks would; the page comes back. */
  public void hangUp() {
    feed.hangUp();
  }

  @Override
  public void close() {
    firstRequests.close();
    server.stop();
  }

  private void configure(JavalinConfig config) {
    config.startup.showJavalinBanner = false;
    config.startup.showOldJavalinVersionWarning = false;
    config.startup.startupWatcherEnabled = false;
    config.http.maxRequestSize = Door.MOST_BODY_BYTES;
    QueuedThreadPool threads = new QueuedThreadPool(MOST_THREADS, 4);
    threads.setName("dashboard");
    threads.setDaemon(true);
    config.jetty.threadPool = threads;
    // Streams are ended below; every other request takes milliseconds and is not waited for.
    config.jetty.modifyServer(jetty -> jetty.setStopTimeout(0));
    config.jetty.modifyHttpConfiguration(
        http -> {
          http.setSendServerVersion(false);
          http.setRequestHeaderSize(8 << 10);
        });
    // An open stream would hold the whole stop time-out.
    config.events.serverStopping(feed::close);
    config.staticFiles.add(
        files -> {
          files.hostedPath = "/";
          files.directory = "/web";
          files.location = Location.CLASSPATH;
          files.headers = Map.of("Cache-Control", "no-cache");
          // Each is compressed once and then answered from memory.
          files.precompressMaxSize = 1 << 20;
        });
  }

  private void routes(RoutesConfig routes, Records records, Acts acts, Pictures pictures) {
    routes.before(ctx -> currentDoor().admit(ctx));
    PageFiles.add(routes);
    new PairDoor(pairing, this::currentDoor).add(routes);
    new LookDoor(records, feed, () -> doorstep, this::currentDoor).add(routes);
    new ActDoor(acts, this::currentDoor).add(routes);
    PictureDoor shown = new PictureDoor(pictures, this::currentDoor);
    shown.add(routes);
    new GuestDoor(guests, pictures, this::currentDoor, this::addressFor, shown::send).add(routes);
    routes.exception(
        HttpResponseException.class, (e, ctx) -> fail(ctx, e.getStatus(), e.getMessage()));
    routes.exception(
        Exception.class, (e, ctx) -> fail(ctx, 500, "the program failed to answer this"));
    routes.error(404, "*", ctx -> fail(ctx, 404, "there is nothing at this address"));
  }

  private static void fail(Context ctx, int status, String reason) {
    String quoted = TextNode.valueOf(reason).toString();
    ctx.status(status).contentType("application/json").result("{\"error\":" + quoted + "}");
  }

  private Door currentDoor() {
    if (door == null) {
      throw Door.refusal(503, "the page is not open yet");
    }
    return door;
  }

  /** 127.0.0.1, whatever the machine's own choice of IPv4 or IPv6 is. */
  private static InetAddress loopback() {
    try {
      return InetAddress.getByAddress(new byte[] {127, 0, 0, 1});
    } catch (UnknownHostException e) {
      throw new IllegalStateException("four bytes are an address", e);
    }
  }
}

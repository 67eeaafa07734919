package org.scenespan.dashboard;

import com.fasterxml.jackson.databind.node.TextNode;
import io.javalin.Javalin;
import io.javalin.config.JavalinConfig;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import io.javalin.http.HttpResponseException;
import io.javalin.http.NotFoundResponse;
import io.javalin.http.staticfiles.Location;
import java.io.IOException;
import java.time.Duration;
import java.util.Map;
import java.util.UUID;
import java.util.logging.Level;
import java.util.logging.Logger;
import java.util.regex.Pattern;
import org.eclipse.jetty.util.thread.QueuedThreadPool;

/**
 * The page of one session, served to this machine alone. It shows the journal and hands wishes on;
 * it holds no state of the session itself.
 */
public final class Dashboard implements AutoCloseable {
  /** The longest silence on an event stream: half of what the page takes for a dead one. */
  private static final Duration PULSE = Duration.ofSeconds(10);

  /** Threads beside those of the streams: short requests, Jetty's own acceptor and selectors. */
  private static final int OTHER_THREADS = 16;

  private static final Duration LONGEST_FAREWELL = Duration.ofSeconds(1);
  private static final Pattern PICTURE_NAME = Pattern.compile("[A-Za-z0-9_-][A-Za-z0-9_.-]{0,79}");
  private static final Pattern NUMBER = Pattern.compile("[0-9]{1,18}");

  // Held: java.util.logging forgets the level of a logger that nobody holds.
  private static final Logger JAVALIN_LOG = Logger.getLogger("io.javalin");
  private static final Logger JETTY_LOG = Logger.getLogger("org.eclipse.jetty");

  private final Acts acts;
  private final Pictures pictures;
  private final Feed feed;
  private final Javalin server;
  private volatile Door door;

  /**
   * Opens the page on the loopback address 127.0.0.1.
   *
   * @param port 0 takes a free one
   * @throws IOException if the port cannot be had
   */
  public Dashboard(int port, Records records, Acts acts, Pictures pictures) throws IOException {
    if (!(port >= 0 && port <= 65_535)) {
      throw new IllegalArgumentException("port (" + port + ") must be 0 to 65535");
    }
    // A port that is taken is told to the caller, not to the log.
    JAVALIN_LOG.setLevel(Level.OFF);
    // A request that makes no sense is answered; it is no news to whoever runs the session.
    JETTY_LOG.setLevel(Level.SEVERE);
    this.acts = acts;
    this.pictures = pictures;
    this.feed = new Feed(records, UUID.randomUUID().toString(), PULSE);
    this.server = Javalin.create(this::configure);
    try {
      server.start("127.0.0.1", port);
    } catch (RuntimeException e) {
      server.stop();
      throw new IOException("port " + port + " of 127.0.0.1 cannot be had", e);
    }
    JAVALIN_LOG.setLevel(Level.WARNING);
    this.door = new Door(server.port());
  }

  public int port() {
    return server.port();
  }

  /** Where a browser finds the page. */
  public String address() {
    return "http://127.0.0.1:" + port() + "/";
  }

  /** Ends the event streams that are open, as a network that breaks would; the page comes back. */
  public void hangUp() {
    feed.hangUp();
  }

  @Override
  public void close() {
    server.stop();
  }

  private void configure(JavalinConfig config) {
    config.startup.showJavalinBanner = false;
    config.startup.showOldJavalinVersionWarning = false;
    config.startup.startupWatcherEnabled = false;
    config.http.maxRequestSize = Door.MOST_BODY_BYTES;
    QueuedThreadPool threads = new QueuedThreadPool(Feed.MOST_STREAMS + OTHER_THREADS, 4);
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
    config.events.serverStopping(this::sayFarewell);
    config.staticFiles.add(
        files -> {
          files.hostedPath = "/";
          files.directory = "/web";
          files.location = Location.CLASSPATH;
          files.headers = Map.of("Cache-Control", "no-cache");
        });
    routes(config.routes);
  }

  private void routes(RoutesConfig routes) {
    routes.before(ctx -> currentDoor().admit(ctx));
    routes.get("/api/events", this::stream);
    routes.post("/api/hold", ctx -> ask(ctx, "hold", acts::hold));
    routes.post("/api/continue", ctx -> ask(ctx, "continue", acts::goOn));
    routes.post("/api/stop", ctx -> ask(ctx, "stop", acts::stop));
    routes.get("/previews/{name}", this::picture);
    routes.exception(
        HttpResponseException.class, (e, ctx) -> fail(ctx, e.getStatus(), e.getMessage()));
    routes.exception(
        Exception.class, (e, ctx) -> fail(ctx, 500, "the program failed to answer this"));
    routes.error(404, "*", ctx -> fail(ctx, 404, "there is nothing at this address"));
  }

  private void stream(Context ctx) throws IOException {
    long since = startOf(ctx);
    if (!feed.enter()) {
      throw Door.refusal(503, Feed.MOST_STREAMS + " pages are open already; close one");
    }
    try {
      ctx.contentType("text/event-stream; charset=utf-8");
      ctx.status(200);
      feed.copyTo(ctx.res().getOutputStream(), since);
    } catch (IOException gone) {
      // The page was closed: nothing to do, and nobody to tell.
      ctx.res().getOutputStream().close();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    } finally {
      feed.leave();
    }
  }

  /** The browser's own header on a reconnect wins over the address's parameter. */
  private static long startOf(Context ctx) {
    String last = ctx.header("Last-Event-ID");
    if (last == null || last.isEmpty()) {
      last = ctx.queryParam("since");
    }
    if (last == null) {
      return 0;
    }
    if (!NUMBER.matcher(last).matches()) {
      throw Door.refusal(400, "the number to go on from must be a whole number");
    }
    return Long.parseLong(last);
  }

  private void ask(Context ctx, String name, Runnable act) {
    currentDoor().admitAct(ctx);
    act.run();
    ctx.status(202).contentType("application/json").result("{\"asked\":\"" + name + "\"}");
  }

  private void picture(Context ctx) {
    String name = ctx.pathParam("name");
    String type = typeOf(name);
    if (!PICTURE_NAME.matcher(name).matches() || type == null) {
      throw new NotFoundResponse();
    }
    byte[] bytes = pictures.named(name).orElseThrow(NotFoundResponse::new);
    ctx.contentType(type).result(bytes);
  }

  private static String typeOf(String name) {
    if (name.endsWith(".jpg")) {
      return "image/jpeg";
    }
    return name.endsWith(".png") ? "image/png" : null;
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

  private void sayFarewell() {
    try {
      feed.close(LONGEST_FAREWELL);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}

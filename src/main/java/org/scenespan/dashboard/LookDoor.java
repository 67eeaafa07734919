package org.scenespan.dashboard;

import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.io.IOException;
import java.net.InetSocketAddress;
import java.net.SocketAddress;
import java.util.Optional;
import java.util.function.Supplier;
import java.util.regex.Pattern;

/**
 * The requests of whoever may look: the records as a stream and in short, what comes next, and a
 * plan worked out. Each is answered and changes nothing.
 */
final class LookDoor {
  private static final Pattern NUMBER = Pattern.compile("[0-9]{1,18}");

  private final Records records;
  private final Feed feed;
  private final Supplier<Doorstep> doorstep;
  private final Supplier<Door> door;

  LookDoor(Records records, Feed feed, Supplier<Doorstep> doorstep, Supplier<Door> door) {
    this.records = records;
    this.feed = feed;
    this.doorstep = doorstep;
    this.door = door;
  }

  void add(RoutesConfig routes) {
    routes.get("/api/plan", this::plan);
    routes.get("/api/events", this::stream);
    routes.get("/api/so-far", ctx -> tell(ctx, records::soFar));
    routes.get("/api/ahead", ctx -> tell(ctx, records::ahead));
  }

  private void plan(Context ctx) {
    door.get().admitLook(ctx);
    try {
      ctx.contentType("application/json").result(PlanAnswers.to(ctx::queryParam).toString());
    } catch (IllegalArgumentException wrong) {
      throw Door.refusal(400, wrong.getMessage());
    }
  }

  /** One JSON object; an empty one where there is nothing to tell. */
  private void tell(Context ctx, Supplier<Optional<String>> answer) {
    door.get().admitLook(ctx);
    ctx.header("Cache-Control", "no-store");
    ctx.contentType("application/json").result(answer.get().orElse("{}"));
  }

  private void stream(Context ctx) throws IOException {
    Door here = door.get();
    here.admitLook(ctx);
    long since = startOf(ctx);
    if (!feed.enter(here.isLocal(ctx))) {
      throw Door.refusal(503, Feed.MOST_STREAMS + " pages are open already; close one");
    }
    ctx.contentType("text/event-stream; charset=utf-8");
    ctx.status(200);
    ctx.req().startAsync().setTimeout(0);
    SocketAddress theirs = new InetSocketAddress(Door.callerOf(ctx), ctx.req().getRemotePort());
    doorstep.get().stay(theirs);
    OpenStream opened = feed.open(ctx.res().getOutputStream(), since);
    opened.ended().whenComplete((none, failure) -> doorstep.get().leave(theirs));
    ctx.future(opened::ended);
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
}

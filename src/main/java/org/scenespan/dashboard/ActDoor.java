package org.scenespan.dashboard;

import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.util.function.Consumer;
import java.util.function.Function;
import java.util.function.Supplier;

/** The requests by which an operator acts: each is a wish that is handed on, and no more. */
final class ActDoor {
  private final Acts acts;
  private final Supplier<Door> door;

  ActDoor(Acts acts, Supplier<Door> door) {
    this.acts = acts;
    this.door = door;
  }

  void add(RoutesConfig routes) {
    routes.post("/api/hold", ctx -> ask(ctx, "hold", acts::hold));
    routes.post("/api/continue", ctx -> ask(ctx, "continue", acts::goOn));
    routes.post("/api/reference", ctx -> asked(ctx, "reference", Requests::reference));
    routes.post("/api/mark", ctx -> asked(ctx, "mark", Requests::mark));
    routes.post("/api/release", this::release);
    routes.post("/api/withdraw", ctx -> ask(ctx, "withdraw", acts::withdraw));
    routes.post("/api/stop", ctx -> ask(ctx, "stop", acts::stop));
  }

  private void ask(Context ctx, String name, Runnable act) {
    door.get().admitAct(ctx);
    act.run();
    ctx.status(202).contentType("application/json").result("{\"asked\":\"" + name + "\"}");
  }

  /** An act with a body, which says of what frame. */
  private void asked(Context ctx, String name, Function<String, Consumer<Acts>> request) {
    door.get().admitAct(ctx);
    Consumer<Acts> act;
    try {
      act = request.apply(ctx.body());
    } catch (IllegalArgumentException wrong) {
      throw Door.refusal(400, wrong.getMessage());
    }
    act.accept(acts);
    ctx.status(202).contentType("application/json").result("{\"asked\":\"" + name + "\"}");
  }

  /** An act that can be seen at once not to be had. */
  private void release(Context ctx) {
    door.get().admitAct(ctx);
    int seconds;
    try {
      seconds = Requests.release(ctx.body());
    } catch (IllegalArgumentException wrong) {
      throw Door.refusal(400, wrong.getMessage());
    }
    acts.release(seconds)
        .ifPresent(
            reason -> {
              throw Door.refusal(409, reason);
            });
    ctx.status(202).contentType("application/json").result("{\"asked\":\"release\"}");
  }
}

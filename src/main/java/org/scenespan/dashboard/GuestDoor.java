package org.scenespan.dashboard;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import io.javalin.http.NotFoundResponse;
import java.io.IOException;
import java.util.Optional;
import java.util.function.Function;
import java.util.function.Supplier;

/**
 * The guest page's requests, and those by which an operator hands its link out. A guest's cookie
 * goes to {@code /guest/} alone, and nothing else in the program knows it.
 */
final class GuestDoor {
  /** Writes a picture, if not too many are on their way. */
  interface Sender {
    void send(Context ctx, byte[] bytes, String type) throws IOException;
  }

  private final Guests guests;
  private final Pictures pictures;
  private final Supplier<Door> door;
  private final Function<Context, String> address;
  private final Sender sender;

  /**
   * @param address where a caller's neighbours find the page, with a slash at its end
   */
  GuestDoor(
      Guests guests,
      Pictures pictures,
      Supplier<Door> door,
      Function<Context, String> address,
      Sender sender) {
    this.guests = guests;
    this.pictures = pictures;
    this.door = door;
    this.address = address;
    this.sender = sender;
  }

  void add(RoutesConfig routes) {
    routes.get("/api/guests", this::tell);
    routes.post("/api/guests", this::change);
    routes.post("/guest/enter", this::enter);
    routes.get("/guest/now", this::now);
    routes.get("/guest/picture", this::picture);
  }

  /** The link is the operators' to hand out: a viewer is not told. */
  private void tell(Context ctx) {
    door.get().admitOperator(ctx);
    answer(ctx);
  }

  private void change(Context ctx) {
    door.get().admitAct(ctx);
    try {
      Requests.guests(ctx.body()).accept(guests);
    } catch (IllegalArgumentException wrong) {
      throw Door.refusal(400, wrong.getMessage());
    }
    answer(ctx);
  }

  private void answer(Context ctx) {
    ObjectNode told = JsonNodeFactory.instance.objectNode();
    told.put("shows", guests.shown().label());
    told.put("came", guests.count());
    Optional<String> link = guests.secret().map(secret -> link(address.apply(ctx), secret));
    if (link.isPresent()) {
      told.put("link", link.get());
      ArrayNode rows = told.putArray("drawing");
      QrDrawing.rows(link.get()).forEach(rows::add);
    }
    ctx.contentType("application/json").result(told.toString());
  }

  /** The secret stands in the fragment, which a browser sends to nobody (RFC 9110, 7.1). */
  static String link(String address, String secret) {
    return address + "guest.html#" + secret;
  }

  private void enter(Context ctx) {
    Door here = door.get();
    here.admitPost(ctx);
    String secret = ctx.header(Dashboard.CODE_HEADER);
    String token =
        guests
            .enter(secret == null ? "" : secret)
            .orElseThrow(() -> Door.refusal(403, "this link is not valid any more"));
    ctx.header(
        "Set-Cookie",
        here.guestCookieName() + "=" + token + "; Path=/guest/; HttpOnly; SameSite=Strict");
    ctx.contentType("application/json").result("{}");
  }

  private void admit(Context ctx) {
    String token = ctx.cookie(door.get().guestCookieName());
    if (token == null || !guests.knows(token)) {
      throw Door.refusal(401, "this link is not valid any more");
    }
  }

  private void now(Context ctx) {
    admit(ctx);
    ObjectNode told = JsonNodeFactory.instance.objectNode();
    guests.view().ifPresent(view -> told.put("view", view));
    ctx.contentType("application/json").result(told.toString());
  }

  private void picture(Context ctx) throws IOException {
    admit(ctx);
    byte[] bytes = guests.picture().flatMap(pictures::named).orElseThrow(NotFoundResponse::new);
    sender.send(ctx, bytes, "image/jpeg");
  }
}

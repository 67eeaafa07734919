package org.scenespan.dashboard;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import io.javalin.http.NotFoundResponse;
import java.util.Locale;
import java.util.Optional;
import java.util.function.Supplier;

/** The requests of a browser that may not be let in yet: what it is here, and to be paired. */
final class PairDoor {
  private final Pairing pairing;
  private final Supplier<Door> door;

  /**
   * @param pairing null if only this machine can reach the port
   */
  PairDoor(Pairing pairing, Supplier<Door> door) {
    this.pairing = pairing;
    this.door = door;
  }

  void add(RoutesConfig routes) {
    routes.get("/api/me", this::tellRole);
    routes.post("/api/pair", this::pair);
  }

  private void tellRole(Context ctx) {
    Door here = door.get();
    Optional<Role> role = here.roleOf(ctx);
    ObjectNode told = JsonNodeFactory.instance.objectNode();
    told.put("role", role.map(PairDoor::word).orElse("none"));
    told.put("local", here.isLocal(ctx));
    if (pairing != null && role.equals(Optional.of(Role.OPERATOR))) {
      told.put("wrongCodes", pairing.wrongCodes());
    }
    ctx.contentType("application/json").result(told.toString());
  }

  private void pair(Context ctx) {
    Door here = door.get();
    here.admitPost(ctx);
    if (pairing == null) {
      throw new NotFoundResponse();
    }
    String code = ctx.header(Dashboard.CODE_HEADER);
    Pairing.Answer answer = pairing.enter(Door.callerOf(ctx), code == null ? "" : code);
    if (answer instanceof Pairing.Answer.Paired paired) {
      ctx.header(
          "Set-Cookie",
          here.cookieName() + "=" + paired.token() + "; Path=/; HttpOnly; SameSite=Strict");
      ctx.contentType("application/json").result("{\"role\":\"" + word(paired.role()) + "\"}");
    } else if (answer instanceof Pairing.Answer.TooSoon soon) {
      long seconds = soon.left().plusMillis(999).toSeconds();
      ctx.header("Retry-After", Long.toString(seconds));
      throw Door.refusal(429, "too many wrong codes; try again in " + seconds + " s");
    } else {
      throw Door.refusal(403, "this is not a code of this session");
    }
  }

  private static String word(Role role) {
    return role.name().toLowerCase(Locale.ROOT);
  }
}

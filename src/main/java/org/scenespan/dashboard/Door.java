package org.scenespan.dashboard;

import io.javalin.http.Context;
import io.javalin.http.HttpResponseException;
import java.util.Locale;
import java.util.Map;
import java.util.Set;

/**
 * Who may come in: only this machine's own browser, at this address, from this page.
 *
 * <p>A foreign page can make a browser send requests to a loopback address. It cannot choose the
 * Host header (against DNS rebinding), and cannot set a header of its own without a preflight,
 * which is never granted (against cross-site requests).
 */
final class Door {
  /** The header that a foreign page cannot send. */
  static final String OWN_HEADER = "X-Scenespan";

  /** The longest body of a request, bytes. */
  static final int MOST_BODY_BYTES = 1024;

  private static final String POLICY =
      "default-src 'self'; img-src 'self' data:; frame-ancestors 'none'; base-uri 'none';"
          + " form-action 'self'";

  private final Set<String> hosts;

  Door(int port) {
    this.hosts = Set.of("127.0.0.1:" + port, "localhost:" + port, "[::1]:" + port);
  }

  /** Sets the headers that every answer has, and refuses a foreign host. */
  void admit(Context ctx) {
    ctx.header("Content-Security-Policy", POLICY);
    ctx.header("X-Content-Type-Options", "nosniff");
    ctx.header("Referrer-Policy", "no-referrer");
    ctx.header("Cross-Origin-Resource-Policy", "same-origin");
    ctx.header("Cache-Control", ctx.path().startsWith("/api/") ? "no-store" : "no-cache");
    String host = ctx.header("Host");
    if (host == null || !hosts.contains(host.toLowerCase(Locale.ROOT))) {
      throw refusal(403, "this address answers only to its own name");
    }
  }

  /** Refuses a request for an act that does not come from the page itself. */
  void admitAct(Context ctx) {
    String origin = ctx.header("Origin");
    if (origin != null && !origin.equalsIgnoreCase("http://" + ctx.header("Host"))) {
      throw refusal(403, "this request comes from another page");
    }
    if (!"1".equals(ctx.header(OWN_HEADER))) {
      throw refusal(403, "the header " + OWN_HEADER + ": 1 is missing");
    }
    String type = ctx.contentType();
    if (type == null || !type.toLowerCase(Locale.ROOT).matches("application/json(\\s*;.*)?")) {
      throw refusal(415, "the content type must be application/json");
    }
    // Length −1 is a body of unknown length: an act needs none.
    if (ctx.req().getContentLengthLong() > MOST_BODY_BYTES
        || ctx.header("Transfer-Encoding") != null) {
      throw refusal(
          413, "the body must be at most " + MOST_BODY_BYTES + " bytes, of stated length");
    }
  }

  static HttpResponseException refusal(int status, String reason) {
    return new HttpResponseException(status, reason, Map.of());
  }
}

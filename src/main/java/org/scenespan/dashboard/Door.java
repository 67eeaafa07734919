package org.scenespan.dashboard;

import io.javalin.http.Context;
import io.javalin.http.HttpResponseException;
import java.net.Inet6Address;
import java.net.InetAddress;
import java.net.UnknownHostException;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.BiPredicate;
import java.util.regex.Pattern;

/**
 * Who may come in, and for what: this machine's own browsers, and those that were paired; in each
 * case only from this page.
 *
 * <p>A foreign page can make a browser send requests to an address nearby. It cannot choose the
 * Host header (against DNS rebinding), cannot set a header of its own without a preflight, which is
 * never granted (against cross-site requests), and the cookie does not go with its requests.
 */
final class Door {
  /** The header that a foreign page cannot send. */
  static final String OWN_HEADER = "X-Scenespan";

  /** The longest body of a request, bytes. None is ever read. */
  static final int MOST_BODY_BYTES = 1024;

  private static final String POLICY =
      "default-src 'self'; img-src 'self' data:; frame-ancestors 'none'; base-uri 'none';"
          + " form-action 'self'";

  /** Addresses under these tell of the session; all others are the page's own files. */
  private static final List<String> SECRET = List.of("/api/", "/previews/", "/frames/", "/guest/");

  private static final Pattern IN_BRACKETS = Pattern.compile("\\[[0-9a-f:.]{2,45}\\]");

  private final Set<String> names;
  private final int port;
  private final Pairing pairing;
  private final BiPredicate<InetAddress, InetAddress> isLocal;

  /**
   * @param pairing null if only this machine can reach the port
   * @param isLocal whether a connection between our address and theirs stays on this machine
   */
  Door(int port, Pairing pairing, BiPredicate<InetAddress, InetAddress> isLocal) {
    this.names = Set.of("127.0.0.1:" + port, "localhost:" + port, "[::1]:" + port);
    this.port = port;
    this.pairing = pairing;
    this.isLocal = isLocal;
  }

  /** Sets the headers that every answer has; refuses a foreign host or page and a long body. */
  void admit(Context ctx) {
    ctx.header("Content-Security-Policy", POLICY);
    ctx.header("X-Content-Type-Options", "nosniff");
    ctx.header("Referrer-Policy", "no-referrer");
    ctx.header("Cross-Origin-Resource-Policy", "same-origin");
    boolean secret = !isPublic(ctx.path());
    ctx.header("Cache-Control", secret ? "no-store" : "no-cache");
    String host = ctx.header("Host");
    if (host == null || !isOurs(host.toLowerCase(Locale.ROOT), ctx)) {
      throw refusal(403, "this address answers only to its own name");
    }
    String origin = ctx.header("Origin");
    if (secret && origin != null && !origin.equalsIgnoreCase("http://" + host)) {
      throw refusal(403, "this request comes from another page");
    }
    if (ctx.header("Transfer-Encoding") != null) {
      throw refusal(411, "the body must be of stated length");
    }
    if (ctx.req().getContentLengthLong() > MOST_BODY_BYTES) {
      throw refusal(413, "the body must be at most " + MOST_BODY_BYTES + " bytes");
    }
  }

  private static boolean isPublic(String path) {
    return SECRET.stream().noneMatch(path::startsWith);
  }

  /**
   * Beside the names of this machine, a caller may use the very address that its connection came in
   * at: a number, which no name can be rebound to look like, and right also after the network gave
   * the machine another one.
   */
  private boolean isOurs(String host, Context ctx) {
    if (names.contains(host)) {
      return true;
    }
    String end = ":" + port;
    if (pairing == null || !host.endsWith(end)) {
      return false;
    }
    String name = host.substring(0, host.length() - end.length());
    InetAddress ours = address(ctx.req().getLocalAddr());
    if (!(ours instanceof Inet6Address)) {
      return name.equals(ours.getHostAddress());
    }
    return IN_BRACKETS.matcher(name).matches() && ours.equals(address(name));
  }

  /** What the caller was let in for; empty if it has to be paired first. */
  Optional<Role> roleOf(Context ctx) {
    if (isLocal(ctx)) {
      return Optional.of(Role.OPERATOR);
    }
    String token = ctx.cookie(cookieName());
    return token == null ? Optional.empty() : pairing.roleOf(token);
  }

  /** Whether the caller sits at this machine: it is the owner, and needs no code. */
  boolean isLocal(Context ctx) {
    return pairing == null || isLocal.test(address(ctx.req().getLocalAddr()), callerOf(ctx));
  }

  static InetAddress callerOf(Context ctx) {
    return address(ctx.req().getRemoteAddr());
  }

  /** The port is in the name: a browser sends one port's cookies to all ports of an address. */
  String cookieName() {
    return "scenespan-" + port;
  }

  /** A guest's is another one, so that it stands for nothing else. */
  String guestCookieName() {
    return "scenespan-guest-" + port;
  }

  /** Refuses whoever is no operator. */
  void admitOperator(Context ctx) {
    admitLook(ctx);
    if (!roleOf(ctx).equals(Optional.of(Role.OPERATOR))) {
      throw refusal(403, "a viewer may only look");
    }
  }

  /** Refuses whoever was not let in. */
  void admitLook(Context ctx) {
    if (roleOf(ctx).isEmpty()) {
      throw refusal(401, "this browser is not paired");
    }
  }

  /** Refuses a request for an act that does not come from the page itself, or from a viewer. */
  void admitAct(Context ctx) {
    admitPost(ctx);
    admitOperator(ctx);
  }

  /** Refuses a request that changes something and does not come from the page itself. */
  void admitPost(Context ctx) {
    if (!"1".equals(ctx.header(OWN_HEADER))) {
      throw refusal(403, "the header " + OWN_HEADER + ": 1 is missing");
    }
    String type = ctx.contentType();
    if (type == null || !type.toLowerCase(Locale.ROOT).matches("application/json(\\s*;.*)?")) {
      throw refusal(415, "the content type must be application/json");
    }
  }

  /** An address that the server gives as a number: no name is looked up. */
  private static InetAddress address(String number) {
    try {
      return InetAddress.getByName(number);
    } catch (UnknownHostException e) {
      throw refusal(403, "this address answers only to its own name");
    }
  }

  static HttpResponseException refusal(int status, String reason) {
    return new HttpResponseException(status, reason, Map.of());
  }
}

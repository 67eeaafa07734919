package org.scenespan.dashboard;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.Base64;
import java.util.HexFormat;
import java.util.LinkedHashSet;
import java.util.Optional;
import java.util.Set;
import java.util.function.Supplier;

/**
 * What those who were handed the link to the guest page may see: one picture at a time, or nothing.
 * The link holds a secret of 256 bits, which is exchanged for a token; both live until the link is
 * withdrawn or the program ends.
 */
final class Guests {
  /** Browsers at once; the one that came longest ago makes room. */
  static final int MOST = 16;

  /** What an operator lets them see. */
  enum Shown {
    /** A quiet card. */
    NOTHING("nothing"),
    /** The frame that landed last. */
    LATEST("latest"),
    /** The last of the frames that are marked to be kept. */
    KEPT("kept");

    private final String label;

    Shown(String label) {
      this.label = label;
    }

    String label() {
      return label;
    }

    static Shown of(String label) {
      for (Shown each : values()) {
        if (each.label.equals(label)) {
          return each;
        }
      }
      throw new IllegalArgumentException(
          "guests can be shown nothing, latest or kept, not \"" + label + "\"");
    }
  }

  private final Supplier<byte[]> chance;
  private final Pictures pictures;
  private final Set<String> tokens = new LinkedHashSet<>();
  private Optional<String> secret = Optional.empty();
  private Shown shown = Shown.NOTHING;

  /**
   * @param chance 32 bytes that nobody can guess, new at each call
   */
  Guests(Supplier<byte[]> chance, Pictures pictures) {
    this.chance = chance;
    this.pictures = pictures;
  }

  /** The secret of the link that is handed out; makes one where there is none. */
  synchronized String open() {
    if (secret.isEmpty()) {
      secret = Optional.of(drawn());
    }
    return secret.get();
  }

  /** The secret of the link, if one is handed out. */
  synchronized Optional<String> secret() {
    return secret;
  }

  /** The link, and whoever came by it, is good for nothing any more. */
  synchronized void withdraw() {
    secret = Optional.empty();
    tokens.clear();
    shown = Shown.NOTHING;
  }

  synchronized void show(Shown wished) {
    shown = wished;
  }

  synchronized Shown shown() {
    return shown;
  }

  /** How many browsers have come by the link. */
  synchronized int count() {
    return tokens.size();
  }

  /** A token for the link's secret; empty if it is not the one. */
  synchronized Optional<String> enter(String given) {
    if (secret.isEmpty() || !same(given, secret.get())) {
      return Optional.empty();
    }
    String token = drawn();
    tokens.add(digest(token));
    if (tokens.size() > MOST) {
      tokens.remove(tokens.iterator().next());
    }
    return Optional.of(token);
  }

  synchronized boolean knows(String token) {
    return tokens.contains(digest(token));
  }

  /** The name of the picture that is to be seen now. */
  Optional<String> picture() {
    return switch (shown()) {
      case NOTHING -> Optional.empty();
      case LATEST -> pictures.latest();
      case KEPT -> pictures.latestKept();
    };
  }

  /** A word that differs from picture to picture and tells nothing of them. */
  Optional<String> view() {
    Optional<String> link = secret();
    return link.isEmpty()
        ? Optional.empty()
        : picture().map(name -> digest(link.get() + name).substring(0, 16));
  }

  private String drawn() {
    return Base64.getUrlEncoder().withoutPadding().encodeToString(chance.get());
  }

  private static boolean same(String given, String expected) {
    return MessageDigest.isEqual(
        given.getBytes(StandardCharsets.UTF_8), expected.getBytes(StandardCharsets.UTF_8));
  }

  private static String digest(String text) {
    try {
      return HexFormat.of()
          .formatHex(
              MessageDigest.getInstance("SHA-256").digest(text.getBytes(StandardCharsets.UTF_8)));
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java platform has SHA-256", e);
    }
  }
}

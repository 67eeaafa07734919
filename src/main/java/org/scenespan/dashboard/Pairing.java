package org.scenespan.dashboard;

import java.math.BigInteger;
import java.net.Inet6Address;
import java.net.InetAddress;
import java.net.UnknownHostException;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.Arrays;
import java.util.Base64;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.function.Supplier;

/**
 * How a browser elsewhere becomes an operator or a viewer: it enters a code that the terminal
 * shows, and gets a token of 256 bits for it. Codes and tokens live as long as the program.
 *
 * <p>Only wrong codes are slowed, twice: each doubles the wait of its own address, and all of them
 * together draw on one allowance. With 20 a minute against two codes of eight digits, twelve hours
 * of guessing succeed with a chance below 0.0003 [computed].
 */
public final class Pairing {
  /** The digits of a code. */
  static final int DIGITS = 8;

  /** The fewest bytes of chance for a token: 128 bits. */
  static final int LEAST_CHANCE_BYTES = 16;

  /** Addresses whose wrong codes are remembered; the one heard from longest ago goes first. */
  static final int MOST_ADDRESSES = 1024;

  /** Browsers paired in each role; the one paired longest ago goes first. */
  static final int MOST_PAIRED = 64;

  /** Wrong codes from all addresses together, at once. */
  static final int MOST_WRONG_AT_ONCE = 20;

  /** After this, one more wrong code is allowed. */
  static final Duration REGAINED_AFTER = Duration.ofSeconds(3);

  /** The longest wait of one address after a wrong code. */
  static final Duration LONGEST_WAIT = Duration.ofSeconds(64);

  private static final BigInteger CODES = BigInteger.TEN.pow(DIGITS);

  /** What a code gets. */
  sealed interface Answer {
    record Paired(String token, Role role) implements Answer {}

    /** Not a code of this session. */
    record Wrong() implements Answer {}

    /** Not looked at: too many were wrong. */
    record TooSoon(Duration left) implements Answer {}
  }

  /** The wrong codes of one address in a row, and when it may try again. */
  private record Wrongs(int inARow, Instant until) {}

  private final InstantSource clock;
  private final Supplier<byte[]> chance;
  private final String operatorCode;
  private final String viewerCode;

  /** By the digest of their token, so that finding one tells nothing of another by its time. */
  private final Map<Role, Map<String, Role>> paired =
      Map.of(Role.OPERATOR, bounded(MOST_PAIRED, false), Role.VIEWER, bounded(MOST_PAIRED, false));

  private final Map<InetAddress, Wrongs> wrongs = bounded(MOST_ADDRESSES, true);
  private int wrongCodes;
  private Instant allowanceFull;

  /**
   * @param chance bytes that nobody can guess, at least 16 and new at each call
   */
  public Pairing(InstantSource clock, Supplier<byte[]> chance) {
    this.clock = clock;
    this.chance = chance;
    BigInteger first = new BigInteger(1, drawn()).mod(CODES);
    BigInteger second = new BigInteger(1, drawn()).mod(CODES);
    this.operatorCode = digits(first);
    this.viewerCode = digits(second.equals(first) ? second.add(BigInteger.ONE) : second);
    this.allowanceFull = clock.instant();
  }

  /** Eight digits that make an operator. */
  public String operatorCode() {
    return operatorCode;
  }

  /** Eight digits that make a viewer. */
  public String viewerCode() {
    return viewerCode;
  }

  /** How many wrong codes were tried so far, waits not counted. */
  public synchronized int wrongCodes() {
    return wrongCodes;
  }

  synchronized Answer enter(InetAddress from, String code) {
    Instant now = clock.instant();
    InetAddress network = networkOf(from);
    Wrongs before = wrongs.getOrDefault(network, new Wrongs(0, Instant.MIN));
    if (now.isBefore(before.until())) {
      return new Answer.TooSoon(Duration.between(now, before.until()));
    }
    // The allowance is the time left until it is full again: one wrong code adds three seconds.
    Instant full = allowanceFull.isAfter(now) ? allowanceFull : now;
    Duration owed = Duration.between(now, full);
    Duration most = REGAINED_AFTER.multipliedBy(MOST_WRONG_AT_ONCE - 1L);
    if (owed.compareTo(most) > 0) {
      return new Answer.TooSoon(owed.minus(most));
    }
    // Both are always compared, each in a time that does not depend on where they differ.
    boolean operator = same(code, operatorCode);
    boolean viewer = same(code, viewerCode);
    if (operator || viewer) {
      wrongs.remove(network);
      return admit(operator ? Role.OPERATOR : Role.VIEWER);
    }
    wrongCodes++;
    allowanceFull = full.plus(REGAINED_AFTER);
    int inARow = Math.min(before.inARow() + 1, 16);
    Duration doubled = Duration.ofSeconds(1L << (inARow - 1));
    Duration wait = doubled.compareTo(LONGEST_WAIT) < 0 ? doubled : LONGEST_WAIT;
    wrongs.put(network, new Wrongs(inARow, now.plus(wait)));
    return new Answer.Wrong();
  }

  /** The role that a token was given for; empty for none of ours. */
  synchronized Optional<Role> roleOf(String token) {
    String digest = digest(token);
    return paired.values().stream()
        .flatMap(each -> Optional.ofNullable(each.get(digest)).stream())
        .findFirst();
  }

  private Answer admit(Role role) {
    String token = Base64.getUrlEncoder().withoutPadding().encodeToString(drawn());
    paired.get(role).put(digest(token), role);
    return new Answer.Paired(token, role);
  }

  private byte[] drawn() {
    byte[] bytes = chance.get();
    if (!(bytes.length >= LEAST_CHANCE_BYTES)) {
      throw new IllegalArgumentException(
          "chance (" + bytes.length + " bytes) must be at least " + LEAST_CHANCE_BYTES + " bytes");
    }
    return bytes;
  }

  private static String digits(BigInteger number) {
    return String.format("%0" + DIGITS + "d", number.mod(CODES));
  }

  private static boolean same(String given, String code) {
    return MessageDigest.isEqual(
        given.getBytes(StandardCharsets.UTF_8), code.getBytes(StandardCharsets.UTF_8));
  }

  private static String digest(String token) {
    try {
      return HexFormat.of()
          .formatHex(
              MessageDigest.getInstance("SHA-256").digest(token.getBytes(StandardCharsets.UTF_8)));
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java platform has SHA-256", e);
    }
  }

  /** One host owns a whole /64 of IPv6 addresses (RFC 4291, section 2.5.1): it is one address. */
  private static InetAddress networkOf(InetAddress address) {
    if (!(address instanceof Inet6Address)) {
      return address;
    }
    byte[] bytes = address.getAddress();
    Arrays.fill(bytes, 8, 16, (byte) 0);
    try {
      return InetAddress.getByAddress(bytes);
    } catch (UnknownHostException e) {
      throw new IllegalStateException("sixteen bytes are an address", e);
    }
  }

  private static <K, V> Map<K, V> bounded(int most, boolean byUse) {
    return new LinkedHashMap<>(16, 0.75f, byUse) {
      private static final long serialVersionUID = 1L;

      @Override
      protected boolean removeEldestEntry(Map.Entry<K, V> eldest) {
        return size() > most;
      }
    };
  }
}

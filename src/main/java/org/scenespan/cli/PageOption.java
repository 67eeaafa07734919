package org.scenespan.cli;

import java.net.InetAddress;
import java.net.UnknownHostException;
import java.util.Optional;
import java.util.regex.Pattern;
import picocli.CommandLine.Option;

/** Whether a running session is shown on a page. */
final class PageOption {
  /** The wildcard address. */
  static final String EVERY_ADDRESS = "0.0.0.0";

  /** Numbers only: a name would be looked up. */
  private static final Pattern NUMBER = Pattern.compile("[0-9.]+|[0-9a-fA-F:.]*:[0-9a-fA-F:.]*");

  @Option(
      names = "--dashboard",
      paramLabel = "PORT",
      arity = "0..1",
      fallbackValue = "0",
      description =
          "Show the session on a page of this machine; without a port, on a free one. A simulated"
              + " session then takes the time that a real one would.")
  private Integer port;

  @Option(
      names = "--lan",
      paramLabel = "ADDRESS",
      arity = "0..1",
      fallbackValue = EVERY_ADDRESS,
      description =
          "With --dashboard: let tablets and other machines of the network reach the page too, by"
              + " a code that is shown here; without an address, on every address of this machine.")
  private String lan;

  private boolean guests;

  /**
   * The page on a port, as if it had been asked for.
   *
   * @param lan the address for others, or null
   */
  static PageOption on(int port, String lan) {
    PageOption option = new PageOption();
    option.port = port;
    option.lan = lan;
    return option;
  }

  /** Has the link to the guest page shown in the terminal, too. */
  PageOption withGuests(boolean wished) {
    if (wished && port == null) {
      throw new IllegalArgumentException(
          "--guests: there is no page to show them; give --dashboard as well");
    }
    guests = wished;
    return this;
  }

  boolean hasGuests() {
    return guests;
  }

  boolean wanted() {
    return port != null;
  }

  int port() {
    if (!(port >= 0 && port <= 65_535)) {
      throw new IllegalArgumentException("--dashboard: port (" + port + ") must be 0 to 65535");
    }
    return port;
  }

  /** The address on which others reach the page; empty if only this machine may. */
  Optional<InetAddress> lan() {
    if (lan == null) {
      return Optional.empty();
    }
    try {
      if (NUMBER.matcher(lan).matches()) {
        return Optional.of(InetAddress.getByName(lan));
      }
    } catch (UnknownHostException none) {
      // Told below.
    }
    throw new IllegalArgumentException(
        "--lan: address (" + lan + ") must be an address of this machine in numbers, or left out");
  }

  /** Refuses an option that would have no effect. */
  void check() {
    if (lan != null && port == null) {
      throw new IllegalArgumentException(
          "--lan: there is no page to reach; give --dashboard as well");
    }
  }
}

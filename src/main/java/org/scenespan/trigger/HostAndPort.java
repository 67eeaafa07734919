package org.scenespan.trigger;

/**
 * The far end of a connection.
 *
 * @param port 1 to 65535
 */
record HostAndPort(String address, String host, int port) {
  /**
   * Reads {@code scheme://host:port}; an IPv6 address stands in brackets.
   *
   * @throws IllegalArgumentException if it is none: one line
   */
  static HostAndPort parse(String address, String scheme) {
    String rest = address.substring(scheme.length());
    int colon = rest.lastIndexOf(':');
    String host = colon < 0 ? "" : rest.substring(0, colon).replaceAll("^\\[(.*)]$", "$1");
    String number = rest.substring(colon + 1);
    boolean whole = number.matches("[0-9]{1,5}");
    int port = whole ? Integer.parseInt(number) : 0;
    if (!host.matches("[A-Za-z0-9.:_%-]+") || !(port >= 1 && port <= 65_535)) {
      throw new IllegalArgumentException(
          "port \"" + address + "\" must be " + scheme + "HOST:PORT, with a port of 1 to 65535");
    }
    return new HostAndPort(address, host, port);
  }
}

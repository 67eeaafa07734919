package org.scenespan.dashboard;

import java.net.Inet4Address;
import java.net.Inet6Address;
import java.net.InetAddress;
import java.net.NetworkInterface;
import java.net.SocketException;
import java.util.Comparator;
import java.util.List;

/**
 * What the terminal shows so that a tablet finds the page and is let in.
 *
 * @param addresses where the page is found from elsewhere, the likeliest first
 */
public record Invitation(List<String> addresses, String operatorCode, String viewerCode) {
  /** Addresses and codes in words. */
  public List<String> words() {
    return List.of(
        "From elsewhere:  "
            + (addresses.isEmpty() ? "no network yet" : String.join("  ", addresses)),
        "Operator's code: " + spaced(operatorCode) + "  (may hold, continue and stop)",
        "Viewer's code:   " + spaced(viewerCode) + "  (may look)");
  }

  /**
   * The first address and the operator's code as a QR code, in half blocks. The code stands in the
   * address's fragment, which a browser sends to nobody.
   */
  public List<String> drawing() {
    return addresses.isEmpty() ? List.of() : QrDrawing.lines(addresses.get(0) + "#" + operatorCode);
  }

  private static String spaced(String code) {
    return code.substring(0, 4) + " " + code.substring(4);
  }

  /** Where a port bound to an address is found, the private IPv4 addresses first. */
  static List<String> addressesOf(InetAddress bound, int port) {
    try {
      return (bound.isAnyLocalAddress() ? reachable() : List.of(bound))
          .stream().map(address -> "http://" + literal(address) + ":" + port + "/").toList();
    } catch (SocketException unreadable) {
      return List.of();
    }
  }

  private static List<InetAddress> reachable() throws SocketException {
    return NetworkInterface.networkInterfaces()
        .flatMap(NetworkInterface::inetAddresses)
        .filter(address -> !address.isLoopbackAddress() && !address.isLinkLocalAddress())
        .sorted(
            Comparator.comparing((InetAddress address) -> !(address instanceof Inet4Address))
                .thenComparing(address -> !address.isSiteLocalAddress()))
        .toList();
  }

  private static String literal(InetAddress address) {
    String number = address.getHostAddress().replaceFirst("%.*", "");
    return address instanceof Inet6Address ? "[" + number + "]" : number;
  }
}

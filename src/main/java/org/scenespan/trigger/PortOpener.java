package org.scenespan.trigger;

import java.io.IOException;

/** Opens a port anew at each call, since a pulled cable leaves the old one useless. */
@FunctionalInterface
public interface PortOpener {
  /**
   * Opens the port.
   *
   * @throws IOException if it cannot be opened: one line that says what, where and what to do
   */
  TriggerPort open() throws IOException;

  /**
   * Opens what an address names: {@code tcp://host:port}, {@code rfc2217://host:port}, or else a
   * serial port of this machine.
   *
   * @throws IllegalArgumentException if the address begins like one of the network and is none
   */
  static PortOpener of(String address, Profile profile) {
    boolean contacts = profile.contacts().isPresent();
    if (address.startsWith(TcpTriggerPort.SCHEME)) {
      if (contacts) {
        throw new IllegalArgumentException(
            "port \"" + address + "\" has no modem lines; use rfc2217:// or a serial port");
      }
      HostAndPort far = HostAndPort.parse(address, TcpTriggerPort.SCHEME);
      return () -> TcpTriggerPort.open(far);
    }
    if (address.startsWith(Rfc2217TriggerPort.SCHEME)) {
      HostAndPort far = HostAndPort.parse(address, Rfc2217TriggerPort.SCHEME);
      return () -> Rfc2217TriggerPort.open(far, profile.line(), contacts);
    }
    return () ->
        contacts
            ? SerialTriggerPort.openContacts(address, profile.line())
            : SerialTriggerPort.open(address, profile.line());
  }
}

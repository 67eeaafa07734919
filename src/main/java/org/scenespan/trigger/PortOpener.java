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
}

package org.scenespan.trigger;

import java.io.ByteArrayOutputStream;
import java.util.ArrayList;
import java.util.List;

/** What waits to go out to a device: bytes, and contacts on the modem lines. */
final class Outgoing {
  private final Framing framing;
  private final ByteArrayOutputStream bytes = new ByteArrayOutputStream();
  private final List<Switching> switchings = new ArrayList<>();

  Outgoing(Framing framing) {
    this.framing = framing;
  }

  /** Puts out what a step says or switches, if it does. */
  void put(Step step) {
    if (step instanceof Step.Say say) {
      bytes.writeBytes(framing.encode(say.line()));
    } else if (step instanceof Step.Switch contact) {
      switchings.add(new Switching(contact.line(), contact.closed()));
    }
  }

  /** Throws the bytes away; a contact that was to move still does. */
  void dropBytes() {
    bytes.reset();
  }

  void dropAll() {
    bytes.reset();
    switchings.clear();
  }

  byte[] takeBytes() {
    byte[] taken = bytes.toByteArray();
    bytes.reset();
    return taken;
  }

  List<Switching> takeSwitchings() {
    List<Switching> taken = List.copyOf(switchings);
    switchings.clear();
    return taken;
  }
}

package org.scenespan.folder.codec;

import java.io.IOException;

/** Packed data contradicts its format, or ends too early; the message says how in one line. */
public final class DamagedData extends IOException {
  private static final long serialVersionUID = 1L;

  public DamagedData(String reason) {
    super(reason);
  }
}

package org.scenespan.proof;

import org.scenespan.light.Aperture;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;

/** Exposures at f/8, for tests. */
public final class Exposures {
  private Exposures() {}

  public static Exposure of(String shutter, String iso) {
    return new Exposure(Shutter.parse(shutter), Aperture.parse("f/8"), Iso.parse(iso));
  }

  public static Exposure of(String shutter) {
    return of(shutter, "100");
  }
}

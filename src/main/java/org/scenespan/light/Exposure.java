package org.scenespan.light;

/** What a frame is taken with: shutter, aperture and ISO. */
public record Exposure(Shutter shutter, Aperture aperture, Iso iso) {
  /**
   * The exposure value at ISO 100, Av + Tv − (Sv − 5) (APEX, Exif 2.3x Annex C): the brightness of
   * a scene that these settings render as mid grey.
   */
  public Ev ev() {
    return new Ev(aperture.av() + shutter.tv() - (iso.sv() - Iso.EV_BASE.sv()));
  }

  public Exposure withShutter(Shutter other) {
    return new Exposure(other, aperture, iso);
  }

  public Exposure withIso(Iso other) {
    return new Exposure(shutter, aperture, other);
  }

  /**
   * Whether two sets of settings are the same to within what rounding on a dial or in metadata can
   * do: 0.17 stop (half a third) in each of the three.
   */
  public boolean isSameSetting(Exposure other) {
    double half = 1.0 / 6 + 1e-6;
    return Math.abs(shutter.tv() - other.shutter.tv()) <= half
        && Math.abs(aperture.av() - other.aperture.av()) <= half
        && Math.abs(iso.sv() - other.iso.sv()) <= half;
  }

  /** {@code 1/125 s, f/8, ISO 100}. */
  @Override
  public String toString() {
    return shutter + ", " + aperture + ", " + iso;
  }
}

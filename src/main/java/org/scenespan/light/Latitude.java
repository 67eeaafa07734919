package org.scenespan.light;

import java.util.ArrayList;
import java.util.List;

/**
 * What a camera can do within what the picture allows: how much darker or brighter one can go from
 * an exposure, and with what.
 *
 * <p>Light is bought with the shutter first. ISO is raised only where the longest shutter binds: on
 * a modern sensor it costs a frame's reach stop for stop and hardly helps the shadows.
 */
public final class Latitude {
  private final CameraRange camera;
  private final PictureLimits picture;
  private final ShutterLadder shutters;
  private final List<Iso> isos;

  private Latitude(
      CameraRange camera, PictureLimits picture, ShutterLadder shutters, List<Iso> isos) {
    this.camera = camera;
    this.picture = picture;
    this.shutters = shutters;
    this.isos = isos;
  }

  /**
   * @throws IllegalArgumentException if nothing that the camera can set satisfies the picture; the
   *     message says which limit contradicts which
   */
  public static Latitude of(CameraRange camera, PictureLimits picture) {
    Aperture aperture = picture.aperture();
    if (aperture.av() < camera.widest().av() - 0.01
        || aperture.av() > camera.smallest().av() + 0.01) {
      throw new IllegalArgumentException(
          aperture
              + " is outside of what the camera can set, "
              + camera.widest()
              + " to "
              + camera.smallest());
    }
    Shutter shortest = picture.shortest().orElse(camera.shutters().shortest());
    Shutter longest = picture.longest().orElse(camera.shutters().longest());
    shortest = later(shortest, camera.shutters().shortest());
    longest = earlier(longest, camera.shutters().longest());
    if (shortest.compareTo(longest) > 0) {
      throw new IllegalArgumentException(
          "the picture allows no shutter that the camera can set ("
              + camera.shutters().shortest()
              + " to "
              + camera.shutters().longest()
              + "): the limits leave "
              + shortest
              + " to "
              + longest);
    }
    Iso highest = picture.highestIso().orElse(camera.lowestIso());
    if (highest.compareTo(camera.lowestIso()) < 0) {
      throw new IllegalArgumentException(
          "highest ISO ("
              + highest
              + ") is below the camera's lowest, "
              + camera.lowestIso()
              + "; leave it out to stay at the lowest");
    }
    List<Iso> isos =
        new ArrayList<>(Iso.thirds(camera.lowestIso(), earlier(highest, camera.highestIso())));
    if (isos.isEmpty()) {
      isos.add(camera.lowestIso());
    }
    ShutterLadder ladder = new ShutterLadder(shortest, longest, camera.shutters().stepSeconds());
    return new Latitude(camera, picture, ladder, List.copyOf(isos));
  }

  private static <T extends Comparable<T>> T later(T one, T other) {
    return one.compareTo(other) >= 0 ? one : other;
  }

  private static <T extends Comparable<T>> T earlier(T one, T other) {
    return one.compareTo(other) <= 0 ? one : other;
  }

  public CameraRange camera() {
    return camera;
  }

  public PictureLimits picture() {
    return picture;
  }

  public Exposure darkest() {
    return new Exposure(shutters.first(), picture.aperture(), isos.get(0));
  }

  public Exposure brightest() {
    return new Exposure(shutters.last(), picture.aperture(), isos.get(isos.size() - 1));
  }

  /** Whether an EV lies between the brightest and the darkest exposure, to a thousandth of one. */
  public boolean canReach(Ev ev) {
    return ev.value() >= brightest().ev().value() - 0.001
        && ev.value() <= darkest().ev().value() + 0.001;
  }

  /**
   * The exposure for an EV: the lowest ISO that the longest shutter allows. Beyond an end of the
   * latitude, that end.
   */
  public Exposure at(Ev wanted, Rounding rounding) {
    Exposure base = new Exposure(shutters.last(), picture.aperture(), isos.get(0));
    if (wanted.compareTo(base.ev()) >= 0) {
      double seconds = base.shutter().seconds() / wanted.minus(base.ev()).ratio();
      return base.withShutter(shutters.at(seconds, rounding));
    }
    Exposure darker = base;
    for (Iso iso : isos) {
      Exposure next = base.withIso(iso);
      if (next.ev().value() <= wanted.value() + 1e-9) {
        return switch (rounding) {
          case BRIGHTER -> next;
          case DARKER -> isSame(next.ev(), wanted) ? next : darker;
          case NEAREST ->
              wanted.minus(next.ev()).value() <= darker.ev().minus(wanted).value() ? next : darker;
        };
      }
      darker = next;
    }
    return darker;
  }

  private static boolean isSame(Ev one, Ev other) {
    return Math.abs(one.value() - other.value()) < 1e-6;
  }

  /** How much darker and brighter one can go from an exposure, and with what. */
  public Room room(Exposure from) {
    return new Room(
        new Stops(Math.max(0, darkest().ev().minus(from.ev()).value())),
        darkest(),
        new Stops(Math.max(0, from.ev().minus(brightest().ev()).value())),
        brightest());
  }

  /**
   * What is left on both sides of an exposure.
   *
   * @param darker stops by which light can still be taken away, 0 or more
   * @param darkest with what
   * @param brighter stops by which light can still be added, 0 or more
   * @param brightest with what
   */
  public record Room(Stops darker, Exposure darkest, Stops brighter, Exposure brightest) {}

  @Override
  public boolean equals(Object other) {
    return other instanceof Latitude that
        && camera.equals(that.camera)
        && picture.equals(that.picture);
  }

  @Override
  public int hashCode() {
    return camera.hashCode() * 31 + picture.hashCode();
  }

  @Override
  public String toString() {
    return darkest() + " to " + brightest();
  }
}

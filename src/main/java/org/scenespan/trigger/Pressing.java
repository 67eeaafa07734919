package org.scenespan.trigger;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;

/** What an order has done to the camera so far, as far as the trigger can know. */
final class Pressing {
  /** A trigger that only releases answers when it has pressed, whatever the camera does then. */
  private final boolean endsWithPress;

  private final Duration releaseLag;

  private boolean firing;
  private boolean pressed;
  private boolean isOpen;
  private Duration exposure = Duration.ZERO;
  private Instant exposedUntil = Instant.MIN;
  private Instant deafUntil = Instant.MIN;
  private Optional<Instant> last = Optional.empty();

  Pressing(Profile profile) {
    this.endsWithPress = profile.isReleaseOnly();
    this.releaseLag = profile.releaseLag();
  }

  /** Forgets the order before; only when it pressed is still known. */
  void begin(Order order) {
    firing = order instanceof Order.Fire || order instanceof Order.Press;
    exposure =
        order instanceof Order.Fire fire && !endsWithPress
            ? Duration.ofNanos(Math.round(fire.exposure().shutter().seconds() * 1e9))
            : Duration.ZERO;
    pressed = false;
    isOpen = false;
    exposedUntil = Instant.MIN;
    deafUntil = Instant.MIN;
  }

  /** Takes what a step does as done. */
  void take(Step.Press press, Instant now) {
    switch (press) {
      case NOTHING -> {}
      case MIRROR -> pressed = true;
      case RELEASE -> {
        pressed = true;
        last = Optional.of(now);
        deafUntil = now.plus(releaseLag).plus(exposure);
      }
      case OPEN -> {
        pressed = true;
        last = Optional.of(now);
        isOpen = true;
        // The lag delays the opening and the closing alike.
        exposedUntil = now.plus(exposure);
      }
      case CLOSE -> isOpen = false;
    }
  }

  /** Takes it that nobody closes any more what may be open. */
  void end() {
    isOpen = false;
  }

  /** Whether a shutter was opened that has to be closed. */
  boolean isOpen() {
    return isOpen;
  }

  /** Whether a shutter was opened and closed again. */
  boolean isClosedAgain() {
    return pressed && !isOpen && exposedUntil != Instant.MIN;
  }

  /** Whether anything was pressed, so that something may have been released. */
  boolean hasPressed() {
    return pressed;
  }

  /** Whether the order was to release, and surely nothing was released. */
  boolean surelyReleasedNothing() {
    return firing && !pressed;
  }

  /** When the last release was put out, of this order or an earlier one. */
  Optional<Instant> last() {
    return last;
  }

  /** When a shutter that was opened is to be closed; long ago if none was. */
  Instant exposedUntil() {
    return exposedUntil;
  }

  /** Whether the device was told to expose by itself, and may answer only when it has. */
  boolean exposesByItself() {
    return pressed && deafUntil != Instant.MIN;
  }

  /** From when the device hears: one that exposes by itself may hear nothing until it has. */
  Instant hearsFrom(Instant now) {
    return now.isBefore(deafUntil) ? deafUntil : now;
  }
}

package org.scenespan.control;

import java.util.Optional;
import org.scenespan.session.Effect;
import org.scenespan.trigger.Order;

/** Which effects are for the trigger, in the trigger's words. */
final class Orders {
  private Orders() {}

  static Optional<Order> of(Effect effect) {
    if (effect instanceof Effect.Greet) {
      return Optional.of(new Order.Greet());
    }
    if (effect instanceof Effect.ReadMeter) {
      return Optional.of(new Order.ReadMeter());
    }
    if (effect instanceof Effect.Release release) {
      return Optional.of(new Order.Fire(release.shot(), release.exposure()));
    }
    if (effect instanceof Effect.ReleaseAt release) {
      return Optional.of(new Order.Fire(release.shot(), release.exposure()));
    }
    if (effect instanceof Effect.Press press) {
      return Optional.of(new Order.Press(press.shot()));
    }
    return Optional.empty();
  }
}

package org.scenespan.control;

import org.scenespan.session.Effect;

/** Whatever carries out effects: real hardware or a simulated one. */
interface Rig {
  void perform(Effect effect);
}

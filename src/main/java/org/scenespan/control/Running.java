package org.scenespan.control;

import java.io.IOException;
import org.scenespan.session.Input;
import org.scenespan.session.State;

/** A session that can be run, once. */
public interface Running {
  /**
   * Runs it to its end.
   *
   * @return the closed state
   * @throws IOException if its journal cannot be written any more, or its port not be opened
   */
  State run() throws IOException, InterruptedException;

  /** What the session knows, as of the last input; from any thread. */
  State state();

  /** Hands in a wish of the photographer's from any thread; dropped if too many wait. */
  void ask(Input input);
}

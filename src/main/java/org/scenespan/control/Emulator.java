package org.scenespan.control;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Optional;
import java.util.function.Consumer;
import org.scenespan.light.Ev;
import org.scenespan.rehearsal.Emulation;
import org.scenespan.rehearsal.Faults;
import org.scenespan.rehearsal.PseudoTerminal;
import org.scenespan.rehearsal.RigSettings;
import org.scenespan.rehearsal.SimulatedRig;

/** The simulated trigger and camera, offered to whoever speaks the line protocol. */
public final class Emulator {
  private final SimulatedRig rig;

  /**
   * @param scene a bundled scene's name or a Radiance file
   * @param folder where the camera writes its frames
   * @throws IllegalArgumentException if the scene is none
   */
  public Emulator(String scene, Ev sceneEv, long seed, boolean raw, Path folder) {
    this.rig =
        new SimulatedRig(
            RigSettings.TYPICAL.withSeed(seed).withRaw(raw),
            Workbench.scene(scene, sceneEv),
            folder,
            Faults.NONE);
  }

  /** Serves until the input ends, or for a limited time. */
  public void serve(InputStream in, OutputStream out, Optional<Duration> longest)
      throws InterruptedException {
    try (Emulation emulation = Emulation.start(rig, in, out, SteadyClock.ofSystem())) {
      if (longest.isPresent()) {
        emulation.awaitEnd(longest.get());
      } else {
        emulation.awaitEnd();
      }
    }
  }

  /**
   * Serves on a pseudo-terminal of its own until interrupted, or for a limited time.
   *
   * @param told is given the port's path before anything is served
   * @throws IOException if this machine has no pseudo-terminals
   */
  public void serveTerminal(Optional<Duration> longest, Consumer<Path> told)
      throws IOException, InterruptedException {
    try (PseudoTerminal terminal = PseudoTerminal.open()) {
      told.accept(terminal.slave());
      serve(terminal.input(), terminal.output(), longest);
    }
  }
}

package org.scenespan.control;

import java.io.IOException;
import java.time.Duration;
import java.time.InstantSource;
import org.scenespan.rehearsal.Cable;
import org.scenespan.rehearsal.Emulation;
import org.scenespan.rehearsal.SimulatedRig;
import org.scenespan.trigger.PortOpener;
import org.scenespan.trigger.TriggerPort;

/** A simulated trigger at the end of a line inside this process, in real time. */
final class SimulatedLine implements PortOpener, AutoCloseable {
  private static final Duration READ_WAIT = Duration.ofMillis(250);

  private final Cable cable = new Cable();
  private final Emulation emulation;

  SimulatedLine(SimulatedRig rig, InstantSource clock) {
    this.emulation = Emulation.start(rig, cable.device().input(), cable.device().output(), clock);
  }

  @Override
  public TriggerPort open() {
    return new TriggerPort() {
      @Override
      public int read(byte[] buffer) {
        try {
          return cable.host().read(buffer, READ_WAIT);
        } catch (InterruptedException stop) {
          Thread.currentThread().interrupt();
          return GONE;
        }
      }

      @Override
      public void write(byte[] bytes) throws IOException {
        cable.host().write(bytes);
      }

      @Override
      public void close() {
        // The line stays: the device is the same when it is opened again.
      }
    };
  }

  @Override
  public void close() {
    cable.host().close();
    emulation.close();
  }
}

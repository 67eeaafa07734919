package org.scenespan.control;

import java.io.IOException;
import java.time.InstantSource;
import org.scenespan.rehearsal.Emulation;
import org.scenespan.rehearsal.SimulatedRig;
import org.scenespan.trigger.PortOpener;
import org.scenespan.trigger.TriggerPort;

/** A simulated trigger at the end of a line inside this process, in real time. */
final class SimulatedLine implements PortOpener, AutoCloseable {
  private static final long READ_WAIT_MILLIS = 250;

  private final SimulatedRig rig;
  private final InstantSource clock;
  private final Pipe toDevice = new Pipe();
  private final Pipe toHost = new Pipe();
  private Emulation emulation;

  SimulatedLine(SimulatedRig rig, InstantSource clock) {
    this.rig = rig;
    this.clock = clock;
  }

  @Override
  public TriggerPort open() throws IOException {
    if (emulation == null) {
      emulation = Emulation.start(rig, toDevice.input(), toHost.output(), clock);
    }
    return new TriggerPort() {
      @Override
      public int read(byte[] buffer) {
        return toHost.read(buffer, 0, buffer.length, READ_WAIT_MILLIS);
      }

      @Override
      public void write(byte[] bytes) throws IOException {
        toDevice.write(bytes);
      }

      @Override
      public void close() {
        // The line stays: the device is the same when it is opened again.
      }
    };
  }

  @Override
  public void close() {
    toDevice.close();
    toHost.close();
    if (emulation != null) {
      emulation.close();
    }
  }
}

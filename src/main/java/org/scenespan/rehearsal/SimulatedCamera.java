package org.scenespan.rehearsal;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.PriorityQueue;
import org.scenespan.light.Aperture;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;

/** The camera: one exposure at a time, and the files of earlier ones on their way to the folder. */
final class SimulatedCamera {
  static final Exposure AT_RESET =
      new Exposure(Shutter.ofNominal(1.0 / 125), Aperture.ofNominal(8), Iso.ofNominal(100));

  private record Pending(int shot, Exposure exposure, Instant opens, Instant closes) {}

  private record Writing(Instant due, long order, Frame frame, boolean raw, boolean first) {}

  /** A frame that is taken but not yet whole on the card. */
  private record Frame(int sequence, int number, Exposure exposure, Instant opened) {}

  private final RigSettings settings;
  private final Scene scene;
  private final Sensor sensor;
  private final CameraCard card;
  private final Faults faults;
  private final PriorityQueue<Writing> writings =
      new PriorityQueue<>(Comparator.comparing(Writing::due).thenComparing(Writing::order));
  private final List<Encoded> encoded = new ArrayList<>();
  private Exposure exposure = AT_RESET;
  private Optional<Pending> pending = Optional.empty();
  private int lastShot;
  private int taken;
  private long order;

  /** Bytes of a file of which only the first half is written. */
  private record Encoded(Path file, byte[] bytes) {}

  SimulatedCamera(RigSettings settings, Scene scene, Path folder, Faults faults) {
    this.settings = settings;
    this.scene = scene;
    this.sensor = new Sensor(settings.noise(), settings.seed());
    this.card = new CameraCard(folder, settings.placing(), settings.firstNumber());
    this.faults = faults;
  }

  Scene scene() {
    return scene;
  }

  Exposure exposure() {
    return exposure;
  }

  void set(Exposure next) {
    exposure = next;
  }

  boolean isExposing() {
    return pending.isPresent();
  }

  /** The number of the last shot that was completed, 0 if there was none. */
  int lastShot() {
    return lastShot;
  }

  /** Starts an exposure with the present settings. */
  void release(int shot, Instant now) {
    Instant opens = now.plus(settings.shutterLag());
    long nanos = Math.round(exposure.shutter().seconds() * 1e9);
    pending = Optional.of(new Pending(shot, exposure, opens, opens.plusNanos(nanos)));
  }

  /** When something next happens by itself. */
  Optional<Instant> nextDue() {
    Optional<Instant> closes = pending.map(Pending::closes);
    Writing next = writings.peek();
    if (next == null || closes.isPresent() && !next.due.isBefore(closes.get())) {
      return closes;
    }
    return Optional.of(next.due);
  }

  /**
   * Does the one thing that is due first.
   *
   * @throws IOException if the folder does not take a file; that frame is lost
   */
  void runNext() throws IOException {
    Optional<Pending> ending = pending;
    Writing next = writings.peek();
    if (ending.isPresent() && (next == null || !next.due.isBefore(ending.get().closes))) {
      pending = Optional.empty();
      lastShot = ending.get().shot;
      close(ending.get());
    } else if (next != null) {
      writings.remove();
      write(next);
    }
  }

  private void close(Pending shot) throws IOException {
    Faults.FrameFate fate = faults.onFrame(shot.shot, shot.closes);
    // A lost frame, too, takes a number and its part of the noise.
    Frame frame = new Frame(++taken, card.takeNumber(), shot.exposure, shot.opens);
    Duration late = fate instanceof Faults.FrameFate.Delay delay ? delay.by() : Duration.ZERO;
    if (fate instanceof Faults.FrameFate.Lose) {
      return;
    }
    plan(frame, false, shot.closes.plus(late), settings.jpegTime());
    if (settings.raw()) {
      plan(frame, true, shot.closes.plus(late), settings.rawTime());
    }
  }

  private void plan(Frame frame, boolean raw, Instant from, Duration time) {
    writings.add(new Writing(from.plus(time.dividedBy(2)), order++, frame, raw, true));
    writings.add(new Writing(from.plus(time), order++, frame, raw, false));
  }

  private void write(Writing writing) throws IOException {
    int number = writing.frame.number;
    Path file = writing.raw ? card.raw(number) : card.jpeg(number);
    if (writing.first) {
      byte[] bytes = encode(writing.frame, writing.raw);
      card.begin(file, bytes);
      encoded.add(new Encoded(file, bytes));
      return;
    }
    for (Encoded half : List.copyOf(encoded)) {
      if (half.file.equals(file)) {
        encoded.remove(half);
        card.finish(file, half.bytes);
      }
    }
  }

  private byte[] encode(Frame frame, boolean raw) {
    SensorFrame codes = sensor.expose(scene, frame.exposure, frame.sequence);
    Instant clock = frame.opened.plus(settings.cameraClock());
    FrameLabel label = new FrameLabel(frame.exposure, clock.atOffset(settings.zone()));
    return raw ? DngFile.encode(codes, label) : JpegFile.encode(codes, label);
  }
}

package org.scenespan.rehearsal;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.Comparator;
import java.util.Optional;
import java.util.PriorityQueue;
import java.util.Set;
import org.scenespan.light.Aperture;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;
import org.scenespan.light.Stops;

/** The camera: one exposure at a time, and the files of earlier ones on their way to the folder. */
final class SimulatedCamera {
  static final Exposure AT_RESET =
      new Exposure(Shutter.ofNominal(1.0 / 125), Aperture.ofNominal(8), Iso.ofNominal(100));

  /** 1/8192 s and 32 s. */
  private static final int SHORTEST_THIRD = -39;

  private static final int LONGEST_THIRD = 15;

  /** From one frame of the camera's own bracket to the next. */
  private static final Duration BETWEEN = Duration.ofMillis(150);

  /**
   * @param compensation the camera's own, where it chooses its exposure by itself
   * @param left how many frames of its own follow from the same release
   */
  private record Pending(
      int shot,
      Exposure exposure,
      Optional<Stops> compensation,
      Instant opens,
      Instant closes,
      int left) {}

  /** Something to do to a file, at a time. */
  private record Writing(Instant due, long order, Act act) {}

  private interface Act {
    void perform() throws IOException;
  }

  /** A frame that is taken but not yet whole on the card. */
  private record Frame(
      int shot,
      int sequence,
      int number,
      Exposure exposure,
      Optional<Stops> compensation,
      Instant opened,
      Instant shown) {}

  private final RigSettings settings;
  private final Scene scene;
  private final Sensor sensor;
  private final CameraCard card;
  private final Faults faults;
  private final Optional<MovingLight> light;
  private final PriorityQueue<Writing> pendingWrites =
      new PriorityQueue<>(Comparator.comparing(Writing::due).thenComparing(Writing::order));
  private Exposure exposure = AT_RESET;
  private Optional<Pending> pending = Optional.empty();
  private Instant firstOpened;
  private Optional<Instant> firstReleased = Optional.empty();
  private int lastShot;
  private int taken;
  private int ownStep;
  private long order;

  SimulatedCamera(
      RigSettings settings, Scene scene, Path folder, Faults faults, Optional<MovingLight> light) {
    this.light = light;
    this.settings = settings;
    this.scene = scene;
    this.sensor = new Sensor(settings.noise(), settings.seed());
    this.card = new CameraCard(folder, settings.placing(), settings.firstNumber());
    this.faults = faults;
  }

  /** How bright the scene is. */
  Ev light(Instant now) {
    return light.map(it -> it.at(firstReleased, now)).orElse(scene.ev());
  }

  /** The names of the files to which something was written since the last call. */
  Set<String> takeWritten() {
    return card.takeWritten();
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

  /** Starts an exposure with the present settings, or with the camera's own. */
  void release(int shot, Instant now) {
    firstReleased = firstReleased.or(() -> Optional.of(now));
    int frames = settings.own().map(OwnExposure::framesPerRelease).orElse(1);
    expose(shot, now.plus(settings.shutterLag()), frames - 1);
  }

  private void expose(int shot, Instant opens, int left) {
    Optional<Stops> compensation = settings.own().map(this::nextOf);
    Exposure taking = compensation.map(this::metered).orElse(exposure);
    long nanos = Math.round(taking.shutter().seconds() * 1e9);
    pending =
        Optional.of(new Pending(shot, taking, compensation, opens, opens.plusNanos(nanos), left));
  }

  private Stops nextOf(OwnExposure own) {
    return own.sequence().get(ownStep++ % own.sequence().size());
  }

  /** Aperture priority: the shutter by the meter, to a third of a stop, as far as there are any. */
  private Exposure metered(Stops compensation) {
    double tv = scene.ev().minus(compensation).value() - AT_RESET.aperture().av();
    int third = (int) Math.round(-3 * tv);
    return AT_RESET.withShutter(
        Shutter.ofThird(Math.max(SHORTEST_THIRD, Math.min(LONGEST_THIRD, third))));
  }

  /** The next files are numbered from here on; what was on its way to the old card never comes. */
  void changeCard(int first) {
    pendingWrites.clear();
    card.renumber(first);
  }

  /** When something next happens by itself. */
  Optional<Instant> nextDue() {
    Optional<Instant> closes = pending.map(Pending::closes);
    Writing next = pendingWrites.peek();
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
    Writing next = pendingWrites.peek();
    if (ending.isPresent() && (next == null || !next.due.isBefore(ending.get().closes))) {
      pending = Optional.empty();
      if (ending.get().shot != SimulatedRig.BY_HAND) {
        lastShot = ending.get().shot;
      }
      if (ending.get().left > 0) {
        expose(ending.get().shot, ending.get().closes.plus(BETWEEN), ending.get().left - 1);
      }
      close(ending.get());
    } else if (next != null) {
      pendingWrites.remove();
      next.act.perform();
    }
  }

  private void close(Pending shot) throws IOException {
    firstOpened = firstOpened == null ? shot.opens : firstOpened;
    Instant shown = shot.opens.plus(settings.cameraClock()).plus(faults.clockError(shot.opens));
    Faults.FrameFate fate = faults.onFrame(shot.shot, shot.closes);
    // A lost frame, too, takes a number and its part of the noise.
    Frame frame =
        new Frame(
            shot.shot,
            ++taken,
            card.takeNumber(),
            shot.exposure,
            shot.compensation,
            shot.opens,
            shown);
    if (fate instanceof Faults.FrameFate.Lose) {
      return;
    }
    Optional<Boolean> only =
        fate instanceof Faults.FrameFate.OneOnly one && settings.raw()
            ? Optional.of(one.raw())
            : Optional.empty();
    if (!only.equals(Optional.of(true))) {
      plan(new FrameFile(frame, false), shot.closes, settings.jpegTime(), fate);
    }
    if (settings.raw() && !only.equals(Optional.of(false))) {
      plan(new FrameFile(frame, true), shot.closes, settings.rawTime(), fate);
    }
  }

  /** The scene in the light of a moment: it changes from the first exposure on. */
  private Scene sceneAt(Instant moment, Frame frame) {
    if (light.isPresent()) {
      // What a shutter that is open for a while gets is, to a slope, what there is in the middle.
      long half = Math.round(frame.exposure.shutter().seconds() * 0.5e9);
      Ev then = light.get().at(firstReleased, moment.plusNanos(half));
      return scene.at(then.plus(light.get().scatter().of(frame.sequence)));
    }
    double minutes = Duration.between(firstOpened, moment).toMillis() / 60_000.0;
    return settings.drift().value() == 0
        ? scene
        : scene.at(scene.ev().plus(new Stops(settings.drift().value() * minutes)));
  }

  private void plan(FrameFile file, Instant closes, Duration time, Faults.FrameFate fate) {
    Duration late = fate instanceof Faults.FrameFate.Delay delay ? delay.by() : Duration.ZERO;
    Instant from = closes.plus(late);
    if (fate instanceof Faults.FrameFate.Empty) {
      later(from.plus(time), file::touch);
      return;
    }
    later(from.plus(time.dividedBy(2)), file::begin);
    if (!(fate instanceof Faults.FrameFate.Halve)) {
      later(from.plus(time), file::finish);
    }
    if (fate instanceof Faults.FrameFate.Repeat repeat) {
      later(from.plus(time).plus(repeat.after()), repeat.inPlace() ? file::rewrite : file::copy);
    }
  }

  private void later(Instant due, Act act) {
    pendingWrites.add(new Writing(due, order++, act));
  }

  /** One file of a frame; its bytes are made when they are first written. */
  private final class FrameFile {
    private final Frame frame;
    private final boolean raw;
    private final Path path;
    private byte[] bytes = new byte[0];

    FrameFile(Frame frame, boolean raw) {
      this.frame = frame;
      this.raw = raw;
      this.path = raw ? card.raw(frame.number) : card.jpeg(frame.number);
    }

    void touch() throws IOException {
      card.begin(path, bytes);
    }

    void begin() throws IOException {
      Shutter set = frame.exposure.shutter();
      Shutter real = new Shutter(set.seconds() * faults.shutterError(set).ratio());
      SensorFrame codes =
          sensor.expose(
              sceneAt(frame.opened, frame), frame.exposure.withShutter(real), frame.sequence);
      FrameLabel label =
          new FrameLabel(frame.exposure, frame.compensation, frame.shown.atOffset(settings.zone()));
      byte[] whole =
          raw ? DngFile.encode(codes, label) : JpegFile.encode(codes, label, settings.rendering());
      faults.onFile(frame.shot, whole);
      card.begin(path, whole);
      bytes = whole;
    }

    /** Nothing comes after a beginning that failed. */
    void finish() throws IOException {
      if (bytes.length > 0) {
        card.finish(path, bytes);
      }
    }

    void rewrite() throws IOException {
      if (bytes.length > 0) {
        card.rewrite(path, bytes);
      }
    }

    void copy() throws IOException {
      if (bytes.length > 0) {
        card.copy(path, bytes);
      }
    }
  }
}

package org.scenespan.rehearsal;

import java.io.IOException;
import java.math.BigDecimal;
import java.math.MathContext;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Pattern;
import org.scenespan.light.Aperture;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;

/**
 * The reference trigger's device side, or a box that only releases, and the camera behind it,
 * before a scene. It moves only when called, and the caller says what time it is; times must not go
 * back. Not for sharing between threads.
 */
public final class SimulatedRig {
  /** The shot's number where somebody presses the camera's own button. */
  public static final int BY_HAND = 0;

  static final String IDENTITY = "SCENESPAN,REFERENCE TRIGGER,0,1.0";

  /** With this many commands waiting for an exposure's end, no further line is taken. */
  private static final int MOST_WAITING = 256;

  private static final int LARGEST_SHOT = 999_999_999;

  /** Room at the ends of a range for decimals that were rounded: a thousandth. */
  private static final double SPARE = 0.001;

  private static final Pattern NUMBER =
      Pattern.compile("[+-]?(\\d+(\\.\\d*)?|\\.\\d+)([eE][+-]?\\d{1,3})?");

  /** One command of a line; the replies of a line leave together. */
  private record Unit(String text, boolean first, boolean last) {
    /** Stands, in its place among the others, for a line that was thrown away. */
    static final Unit OVERRUN = new Unit("", true, true);
  }

  private final SimulatedCamera camera;
  private final SpokenReplies spoken;
  private final Optional<ReleaseBox> box;
  private final CommandLines lines = new CommandLines();
  private final ErrorQueue errors = new ErrorQueue();
  private final ArrayDeque<Unit> units = new ArrayDeque<>();
  private final List<String> replies = new ArrayList<>();
  private List<String> path = List.of();

  /**
   * @param folder where the camera writes its files, on any file system
   */
  public SimulatedRig(RigSettings settings, Scene scene, Path folder, Faults faults) {
    this(settings, scene, folder, faults, Optional.empty());
  }

  /**
   * @param light how the scene's light goes; absent where it is the scene's own, with the settings'
   *     drift
   */
  public SimulatedRig(
      RigSettings settings, Scene scene, Path folder, Faults faults, Optional<MovingLight> light) {
    this.camera = new SimulatedCamera(settings, scene, folder, faults, light);
    this.spoken = new SpokenReplies(settings.replyTime(), settings.seed(), faults);
    this.box = settings.own().map(own -> new ReleaseBox(camera));
  }

  /** Takes bytes from the controller, cut anyhow, after doing what was due before. */
  public void receive(byte[] bytes, Instant now) {
    runDue(now);
    lines.receive(
        bytes,
        line -> {
          if (box.isPresent()) {
            box.get().obey(line.orElse("").strip(), now).ifPresent(it -> spoken.say(it, now));
          } else {
            accept(line);
            obey(now);
          }
        });
  }

  /** Somebody presses the camera's own button; in the middle of an exposure it does nothing. */
  public void press(Instant now) {
    runDue(now);
    if (!camera.isExposing()) {
      camera.release(BY_HAND, now);
    }
  }

  /** Somebody puts in an empty card; its files' numbers begin at this one. */
  public void changeCard(int first) {
    camera.changeCard(first);
  }

  /** The names of the files to which the camera wrote something since the last call. */
  public Set<String> takeWritten() {
    return camera.takeWritten();
  }

  /** The bytes that have been said since the last call; empty if none. */
  public byte[] takeOutput() {
    return spoken.take();
  }

  /**
   * When something next happens by itself: a reply is said, a shutter closes, a file is written.
   */
  public Optional<Instant> nextDue() {
    return isReplyFirst() ? spoken.nextDue() : camera.nextDue();
  }

  private boolean isReplyFirst() {
    Optional<Instant> reply = spoken.nextDue();
    Optional<Instant> picture = camera.nextDue();
    return reply.isPresent() && (picture.isEmpty() || !picture.get().isBefore(reply.get()));
  }

  /** Does everything that is due, each thing as of its own time. */
  public void runDue(Instant now) {
    for (Optional<Instant> due = nextDue();
        due.isPresent() && !due.get().isAfter(now);
        due = nextDue()) {
      if (isReplyFirst()) {
        spoken.sayNext();
      } else {
        runCamera();
        obey(due.get());
      }
    }
  }

  private void runCamera() {
    try {
      camera.runNext();
    } catch (IOException e) {
      // A camera whose card is full or gone loses the frame and shows an error.
      errors.add(ErrorQueue.MASS_STORAGE);
    }
  }

  private void accept(Optional<String> line) {
    if (units.size() >= MOST_WAITING) {
      errors.add(ErrorQueue.INPUT_OVERRUN);
      return;
    }
    if (line.isEmpty()) {
      units.add(Unit.OVERRUN);
      return;
    }
    String[] texts = line.get().split(";", -1);
    for (int i = 0; i < texts.length; i++) {
      units.add(new Unit(texts[i].strip(), i == 0, i == texts.length - 1));
    }
  }

  /** Obeys what has arrived, up to a command that has to wait for the exposure. */
  private void obey(Instant now) {
    while (!units.isEmpty()) {
      Unit unit = units.peek();
      if (unit.first) {
        path = List.of();
      }
      if (unit == Unit.OVERRUN) {
        errors.add(ErrorQueue.INPUT_OVERRUN);
      } else if (!unit.text.isEmpty() && !obey(unit, now)) {
        return;
      }
      units.remove();
      if (unit.last && !replies.isEmpty()) {
        spoken.say(String.join(";", replies), now);
        replies.clear();
      }
    }
  }

  /** Answers false if the command has to wait. */
  private boolean obey(Unit unit, Instant now) {
    String[] parts = unit.text.split("[ \\t]+", 2);
    List<String> header = header(parts[0]);
    Optional<Command> command = Command.of(header);
    if (command.isEmpty()) {
      errors.add(ErrorQueue.UNDEFINED_HEADER);
      return true;
    }
    if (command.get().waits() && camera.isExposing()) {
      return false;
    }
    if (!isCommon(parts[0])) {
      path = header.subList(0, header.size() - 1);
    }
    String parameter = parts.length < 2 ? "" : parts[1].strip();
    if (!command.get().takesNumber()) {
      if (parameter.isEmpty()) {
        perform(command.get(), now);
      } else {
        errors.add(ErrorQueue.ILLEGAL_VALUE);
      }
    } else if (parameter.isEmpty()) {
      errors.add(ErrorQueue.MISSING_PARAMETER);
    } else if (!NUMBER.matcher(parameter).matches()) {
      errors.add(ErrorQueue.ILLEGAL_VALUE);
    } else {
      perform(command.get(), Double.parseDouble(parameter), now);
    }
    return true;
  }

  /** The header's mnemonics from the root: as in SCPI, a line's last path stays in force. */
  private List<String> header(String text) {
    if (isCommon(text)) {
      return List.of(text.substring(text.indexOf('*')));
    }
    boolean fromRoot = text.startsWith(":");
    List<String> full = new ArrayList<>(fromRoot ? List.of() : path);
    full.addAll(Arrays.asList((fromRoot ? text.substring(1) : text).split(":", -1)));
    return full;
  }

  /** A common command leaves the path alone; a colon may stand before it as before any other. */
  private static boolean isCommon(String header) {
    return header.startsWith("*") || header.startsWith(":*");
  }

  private void perform(Command command, Instant now) {
    Exposure exposure = camera.exposure();
    switch (command) {
      case RESET -> camera.set(SimulatedCamera.AT_RESET);
      case CLEAR -> errors.clear();
      case IDENTITY -> replies.add(IDENTITY);
      case OPERATION_COMPLETE -> replies.add("1");
      case NEXT_ERROR -> replies.add(errors.take());
      case TIME -> replies.add(number(exposure.shutter().seconds()));
      case ISO -> replies.add(number(exposure.iso().nominalSpeed()));
      case APERTURE -> replies.add(number(exposure.aperture().nominalNumber()));
      case DONE -> replies.add(Integer.toString(camera.lastShot()));
      case METER -> {
        double ev = camera.light(now).value();
        replies.add(String.format(Locale.ROOT, "%.2f", ev));
      }
      default -> throw new IllegalStateException(command + " needs a number");
    }
  }

  private void perform(Command command, double value, Instant now) {
    Exposure exposure = camera.exposure();
    switch (command) {
      case SET_TIME -> {
        if (isWithin(value, 1.0 / 8192, 32)) {
          camera.set(exposure.withShutter(new Shutter(value)));
        }
      }
      case SET_ISO -> {
        if (isWithin(value, 100, 25_600)) {
          camera.set(exposure.withIso(Iso.ofNominal(value)));
        }
      }
      case SET_APERTURE -> {
        if (isWithin(value, 1.4, 22)) {
          Aperture aperture = Aperture.ofNominal(value);
          camera.set(new Exposure(exposure.shutter(), aperture, exposure.iso()));
        }
      }
      case RELEASE -> release(value, now);
      default -> throw new IllegalStateException(command + " takes no number");
    }
  }

  private boolean isWithin(double value, double least, double most) {
    boolean within = value >= least * (1 - SPARE) && value <= most * (1 + SPARE);
    if (!within) {
      errors.add(ErrorQueue.OUT_OF_RANGE);
    }
    return within;
  }

  private void release(double shot, Instant now) {
    if (!(shot >= 1 && shot <= LARGEST_SHOT)) {
      errors.add(ErrorQueue.OUT_OF_RANGE);
    } else if (shot != Math.rint(shot)) {
      errors.add(ErrorQueue.ILLEGAL_VALUE);
    } else if (camera.isExposing()) {
      errors.add(ErrorQueue.INIT_IGNORED);
    } else {
      camera.release((int) shot, now);
    }
  }

  /** A millionth of the value is told apart, as the protocol promises. */
  private static String number(double value) {
    return new BigDecimal(value, new MathContext(9)).stripTrailingZeros().toPlainString();
  }
}

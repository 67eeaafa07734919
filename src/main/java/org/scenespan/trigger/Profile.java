package org.scenespan.trigger;

import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import org.scenespan.light.Aperture;
import org.scenespan.light.CameraRange;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;
import org.scenespan.light.ShutterLadder;

/**
 * How to talk with one kind of trigger, and what it can set. Read and checked by {@link Profiles};
 * its fields are described in docs/profile-format.md.
 *
 * @param name the name it is called by
 * @param description one sentence for a list
 * @param kind who sets and who times the exposure
 * @param line how the serial line is set, and how its messages are made
 * @param settle how long to listen and throw away after a time-out, before the next question
 * @param greeting asks who is there; its reply has the group {@code identity}; none if the trigger
 *     cannot speak
 * @param clear sent before each greeting and each shot, to forget old errors
 * @param reset sent after the greeting
 * @param errorQuery asks for an error that the device queued
 * @param refusal a line by which the device says no of its own accord
 * @param notices lines that the device says without being asked
 * @param heartbeat what is asked while nothing else is to be said
 * @param commands the settings and the release
 * @param contacts what hangs on the modem lines of a trigger that cannot speak
 * @param pauses what the camera needs before the release
 * @param meter asks for the scene's EV at ISO 100; its reply has the group {@code ev}
 * @param limits what the device can set
 * @param releaseLag from the release's command to the shutter's opening
 * @param measured what a check of the device found
 */
public record Profile(
    String name,
    String description,
    Kind kind,
    LineSettings line,
    Duration settle,
    Optional<Exchange> greeting,
    Optional<Exchange> clear,
    Optional<Exchange> reset,
    Optional<ErrorQuery> errorQuery,
    Optional<ReplyPattern> refusal,
    List<Notice> notices,
    Optional<Heartbeat> heartbeat,
    Commands commands,
    Optional<Contacts> contacts,
    Pauses pauses,
    Optional<Exchange> meter,
    Limits limits,
    Duration releaseLag,
    Optional<Measured> measured) {
  public Profile {
    notices = List.copyOf(notices);
  }

  /** Who sets and who times the exposure. */
  public enum Kind {
    /** The trigger sets the camera, which times by itself. */
    LINE,
    /** The trigger holds the release for a commanded time; the camera stands on bulb. */
    TIMED,
    /** Two commands open and close the shutter; the host times; the camera stands on bulb. */
    OPEN_CLOSE,
    /** Two modem lines are the contacts; there is nobody to speak to. */
    MODEM_LINES,
    /** The trigger only releases; the camera keeps its own exposure. */
    RELEASE_ONLY
  }

  /** The parity bit of a character. */
  public enum Parity {
    NONE,
    EVEN,
    ODD
  }

  /** Who holds the other side's bytes back, and how. */
  public enum FlowControl {
    NONE,
    RTSCTS,
    XONXOFF
  }

  /** What a message is made of. */
  public enum Form {
    /** Characters. */
    TEXT,
    /** Bytes, written in hexadecimal in the profile. */
    HEX
  }

  /** In which order the bytes of a number come. */
  public enum ByteOrder {
    BIG,
    LITTLE
  }

  /** What ends a line. */
  public enum Terminator {
    /** Nothing: the other side counts bytes. */
    NONE(""),
    LF("\n"),
    CR("\r"),
    CRLF("\r\n");

    private final String characters;

    Terminator(String characters) {
      this.characters = characters;
    }

    public String characters() {
      return characters;
    }
  }

  /**
   * How the serial line is set, and how its messages are made.
   *
   * @param baud bits a second
   * @param replyBytes the length of a reply whose terminator is {@link Terminator#NONE}, its
   *     checksum included; else 0
   * @param byteOrder of numbers in messages of bytes
   */
  public record LineSettings(
      int baud,
      int dataBits,
      Parity parity,
      int stopBits,
      FlowControl flowControl,
      Terminator sendTerminator,
      Terminator replyTerminator,
      Form form,
      Checksum checksum,
      int replyBytes,
      ByteOrder byteOrder) {
    /** For a line that carries no messages. */
    static final LineSettings SILENT =
        new LineSettings(
            9600,
            8,
            Parity.NONE,
            1,
            FlowControl.NONE,
            Terminator.LF,
            Terminator.LF,
            Form.TEXT,
            Checksum.NONE,
            0,
            ByteOrder.BIG);
  }

  /**
   * One command and what comes back.
   *
   * @param send the command's template
   * @param checkErrors whether to ask the error query after it
   * @param query a question to send after that, to which {@code reply} is then the answer
   * @param reply the answer awaited; none if the device stays silent
   * @param timeout for each answer
   * @param retries how often to do it again when no good answer came; of a release, only the query
   */
  public record Exchange(
      String send,
      boolean checkErrors,
      Optional<String> query,
      Optional<ReplyPattern> reply,
      Duration timeout,
      int retries) {}

  /**
   * Asks for a queued error.
   *
   * @param reply has the group {@code code}, which is 0 for none, and may have {@code message}
   */
  public record ErrorQuery(String send, ReplyPattern reply) {}

  /**
   * A line that the device says without being asked.
   *
   * @param kind what it is about, such as {@code battery}
   * @param pattern may have the group {@code text}
   */
  public record Notice(String kind, ReplyPattern pattern) {}

  /** What is asked after so long a silence, to know that the device is still there. */
  public record Heartbeat(Duration every, Exchange exchange) {}

  /**
   * The settings, each absent if the device cannot do it, and what moves the shutter: a release, or
   * an opening and a closing.
   *
   * @param halfPress wakes the camera and lets it focus
   * @param mirrorUp the first of two releases, which only lifts the mirror
   */
  public record Commands(
      Optional<Exchange> shutter,
      Optional<Exchange> iso,
      Optional<Exchange> aperture,
      Optional<Exchange> halfPress,
      Optional<Exchange> mirrorUp,
      Optional<Exchange> release,
      Optional<Exchange> open,
      Optional<Exchange> close) {
    static final Commands NONE =
        new Commands(
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            Optional.empty());
  }

  /**
   * What hangs on the modem lines.
   *
   * @param release the release contact
   * @param halfPress the half-press contact, if it is wired
   * @param bulb whether the contact is held for the exposure, or else only pressed
   * @param pulse how long a press is
   */
  public record Contacts(
      ModemLine release, Optional<ModemLine> halfPress, boolean bulb, Duration pulse) {}

  /**
   * What the camera needs before the release.
   *
   * @param halfPress how long the half-press is held before
   * @param mirror how long the mirror settles between the two releases
   */
  public record Pauses(Duration halfPress, Duration mirror) {}

  /**
   * What a check of the device found.
   *
   * @param frames how many frames it took
   * @param answerMillis the mean from the end of an exposure to the trigger's answer, or in its
   *     place the whole time beyond the exposure
   * @param jitterMillis between the quickest and the slowest
   * @param exposureErrorMillis how much longer an exposure was than commanded, in the mean
   */
  public record Measured(
      int frames, double answerMillis, double jitterMillis, Optional<Double> exposureErrorMillis) {}

  /**
   * What the device can set.
   *
   * @param shutterStepSeconds the resolution of its times; 0 for the third-stop series
   */
  public record Limits(
      Shutter shutterShortest,
      Shutter shutterLongest,
      double shutterStepSeconds,
      Iso isoLowest,
      Iso isoHighest,
      Aperture apertureWidest,
      Aperture apertureSmallest) {}

  /** What can be set, as the planner wants it. */
  public CameraRange cameraRange() {
    return new CameraRange(
        new ShutterLadder(limits.shutterShortest, limits.shutterLongest, limits.shutterStepSeconds),
        limits.isoLowest,
        limits.isoHighest,
        limits.apertureWidest,
        limits.apertureSmallest);
  }

  /** Whether the host times the exposure. */
  public boolean isTimedByHost() {
    return kind == Kind.OPEN_CLOSE || contacts.map(Contacts::bulb).orElse(false);
  }

  /** Whether the trigger only releases, so that the camera keeps its own exposure. */
  public boolean isReleaseOnly() {
    return kind == Kind.RELEASE_ONLY || contacts.map(it -> !it.bulb()).orElse(false);
  }

  /**
   * Whether the trigger can release with whatever is set on the camera: it holds no shutter open,
   * and its release names no exposure.
   */
  public boolean isPlainlyReleased() {
    if (contacts.isPresent()) {
      return isReleaseOnly();
    }
    List<String> said =
        Stream.of(clear, commands.halfPress, commands.mirrorUp, commands.release)
            .flatMap(Optional::stream)
            .flatMap(each -> Stream.concat(Stream.of(each.send()), each.query().stream()))
            .toList();
    return (kind == Kind.LINE || kind == Kind.RELEASE_ONLY)
        && Set.of("shot").containsAll(Template.parametersOf(said));
  }

  /** Whether the trigger cannot set the ISO, so that it is what was set by hand. */
  public boolean isIsoByHand() {
    return limits.isoLowest.equals(limits.isoHighest) && commands.iso.isEmpty();
  }

  /** Whether the trigger cannot set the aperture, so that it is what was set by hand. */
  public boolean isApertureByHand() {
    return limits.apertureWidest.equals(limits.apertureSmallest) && commands.aperture.isEmpty();
  }

  /** The same with what is set by hand on the camera; what the trigger sets is left alone. */
  public Profile byHand(Optional<Iso> iso, Optional<Aperture> aperture) {
    Limits set =
        new Limits(
            limits.shutterShortest,
            limits.shutterLongest,
            limits.shutterStepSeconds,
            isIsoByHand() ? iso.orElse(limits.isoLowest) : limits.isoLowest,
            isIsoByHand() ? iso.orElse(limits.isoHighest) : limits.isoHighest,
            isApertureByHand() ? aperture.orElse(limits.apertureWidest) : limits.apertureWidest,
            isApertureByHand()
                ? aperture.orElse(limits.apertureSmallest)
                : limits.apertureSmallest);
    return new Profile(
        name,
        description,
        kind,
        line,
        settle,
        greeting,
        clear,
        reset,
        errorQuery,
        refusal,
        notices,
        heartbeat,
        commands,
        contacts,
        pauses,
        meter,
        set,
        releaseLag,
        measured);
  }
}

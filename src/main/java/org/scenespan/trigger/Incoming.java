package org.scenespan.trigger;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** What comes in from a device, cut into lines: notices, and what may be an answer. */
final class Incoming {
  /** Notices that wait to be taken; more are thrown away. */
  static final int MAX_NOTICES = 16;

  /**
   * A line that is no notice.
   *
   * @param text what it says
   * @param fault if it says nothing, what is wrong with it
   */
  record Said(Optional<String> text, String fault) {}

  private final LineBuffer lines;
  private final Framing framing;
  private final Replies replies;
  private final boolean mayNotice;
  private final List<Replies.Heard> notices = new ArrayList<>();

  Incoming(Profile profile, Framing framing, Replies replies) {
    this.lines = new LineBuffer(profile.line());
    this.framing = framing;
    this.replies = replies;
    this.mayNotice = !profile.notices().isEmpty();
  }

  /** Takes one byte; a line if it was the last of one that is no notice, which is kept. */
  Optional<Said> take(byte value) {
    return lines.take(value).flatMap(this::heard);
  }

  private Optional<Said> heard(LineBuffer.Line line) {
    if (line.tooLong()) {
      return fault("a line longer than " + LineBuffer.MAX_LINE_BYTES + " bytes");
    }
    Optional<String> text = framing.decode(line.text());
    if (text.isEmpty()) {
      return fault(Replies.quoted(line.text()) + ", whose checksum is wrong");
    }
    Optional<Replies.Heard> notice = replies.notice(text.get());
    if (notice.isEmpty()) {
      return Optional.of(new Said(text, ""));
    }
    if (notices.size() < MAX_NOTICES) {
      notices.add(notice.get());
    }
    return Optional.empty();
  }

  private static Optional<Said> fault(String what) {
    return Optional.of(new Said(Optional.empty(), what));
  }

  List<Replies.Heard> takeNotices() {
    List<Replies.Heard> taken = List.copyOf(notices);
    notices.clear();
    return taken;
  }

  /** Throws away the line that has begun and, when it comes, its rest; what it was, if it has. */
  Optional<String> cutOff() {
    if (!lines.hasPart()) {
      return Optional.empty();
    }
    String part = lines.part();
    lines.skipPart();
    return Optional.of("the beginning of a line, " + Replies.quoted(part));
  }

  /** Throws away the line that has begun and, when it comes, its rest. */
  void skipPart() {
    lines.skipPart();
  }

  /**
   * Throws away the line that has begun, unless it may be the beginning of a notice, whose rest
   * alone could pass for an answer.
   */
  void dropPart() {
    if (!mayNotice) {
      lines.forget();
    }
  }

  /** Throws away the line that has begun; the next byte begins another. */
  void forget() {
    lines.forget();
  }
}

package org.scenespan.session;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.scenespan.frame.CaptureTime;
import org.scenespan.plan.guard.Guard;
import org.scenespan.plan.guard.Watched;

/**
 * What a tether knows beyond any session. Immutable.
 *
 * @param frames all frames, in the order of landing
 * @param reference the reference frame of this set-up of lights, once one is marked
 * @param since how many frames there were when it was marked
 * @param marks the photographer's, by file
 * @param asked the last release that an operator asked for
 * @param leads by how much the latest frames' capture times were ahead of their landing, the oldest
 *     first; the camera's clock is ahead of the host's by at least the largest
 */
public record TetherRun(
    List<Event.FrameWatched> frames,
    Optional<Event.ReferenceMarked> reference,
    int since,
    Map<String, Event.FrameMarked> marks,
    Optional<Event.ReleaseAsked> asked,
    List<Duration> leads) {
  static final TetherRun EMPTY =
      new TetherRun(List.of(), Optional.empty(), 0, Map.of(), Optional.empty(), List.of());

  public TetherRun {
    frames = List.copyOf(frames);
    marks = Map.copyOf(marks);
    leads = List.copyOf(leads);
  }

  /** The frame of a file. */
  public Optional<Event.FrameWatched> frame(String file) {
    for (int i = frames.size() - 1; i >= 0; i--) {
      if (frames.get(i).frame().file().equals(file)) {
        return Optional.of(frames.get(i));
      }
    }
    return Optional.empty();
  }

  /** The reference frame's numbers. */
  Optional<Watched> held() {
    return reference.flatMap(marked -> frame(marked.file())).map(TetherRun::watched);
  }

  /** The latest frames that were held against this reference, the oldest first. */
  List<Watched> memory() {
    int from = Math.max(since, frames.size() - Guard.MEMORY);
    return frames.subList(from, frames.size()).stream().map(TetherRun::watched).toList();
  }

  /** All frames since the reference frame was marked, the oldest first. */
  List<Watched> sinceReference() {
    return frames.subList(since, frames.size()).stream().map(TetherRun::watched).toList();
  }

  private static Watched watched(Event.FrameWatched frame) {
    return new Watched(frame.frame().metadata(), frame.frame().measure(), frame.deviation());
  }

  TetherRun with(Event.FrameWatched frame, Instant landed) {
    List<Event.FrameWatched> more = new ArrayList<>(frames);
    if (frame.index() <= frames.size()) {
      more.set(frame.index() - 1, frame);
    } else {
      more.add(frame);
    }
    return new TetherRun(more, reference, since, marks, asked, leads(frame, landed));
  }

  private List<Duration> leads(Event.FrameWatched frame, Instant landed) {
    Optional<CaptureTime> captured = frame.frame().metadata().capturedAt();
    if (captured.isEmpty()) {
      return leads;
    }
    List<Duration> more = new ArrayList<>(leads);
    more.add(Duration.between(landed, captured.get().asInstant()));
    return more.subList(Math.max(0, more.size() - Guard.MEMORY), more.size());
  }

  /** The host's clock may have been set between two runs of the program. */
  TetherRun resumed() {
    return new TetherRun(frames, reference, since, marks, asked, List.of());
  }

  TetherRun with(Event.ReleaseAsked release) {
    return new TetherRun(frames, reference, since, marks, Optional.of(release), leads);
  }

  TetherRun with(Event.ReferenceMarked marked) {
    return new TetherRun(frames, Optional.of(marked), frames.size(), marks, asked, leads);
  }

  TetherRun with(Event.FrameMarked mark) {
    Map<String, Event.FrameMarked> more = new LinkedHashMap<>(marks);
    more.put(mark.file(), mark);
    return new TetherRun(frames, reference, since, more, asked, leads);
  }
}

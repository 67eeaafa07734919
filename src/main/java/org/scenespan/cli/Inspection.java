package org.scenespan.cli;

import java.nio.file.Path;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import org.scenespan.folder.FrameFiles;
import org.scenespan.folder.FrameReader;
import org.scenespan.frame.FrameReading;
import org.scenespan.frame.FrameSource;
import org.scenespan.frame.NoiseModel;
import org.scenespan.plan.BracketGoal;
import org.scenespan.plan.Evidence;
import org.scenespan.plan.JpegMargin;
import org.scenespan.plan.SetReview;
import org.scenespan.plan.ShotFrame;
import org.scenespan.plan.ShotSets;

/**
 * What is made of frames that come in one by one: presses of which raw and JPEG are there, and
 * sets. It holds the presses and the sets that are not whole yet, and nothing of those that are.
 */
final class Inspection {
  private final FrameListing listing;
  private final ShotSets sets;
  private final BracketGoal goal;
  private final JpegMargin margin;
  private final NoiseModel sensor;
  private final Map<Path, List<Path>> presses;
  private final Map<Path, FrameReading> halves = new HashMap<>();
  private boolean failed;
  private boolean told;

  /**
   * @param margin by how much less the JPEGs of a set are taken to hold
   * @param sensor that took the frames
   * @param files all that will come
   */
  Inspection(
      FrameListing listing,
      ShotSets sets,
      BracketGoal goal,
      JpegMargin margin,
      NoiseModel sensor,
      List<Path> files) {
    this.listing = listing;
    this.sets = sets;
    this.goal = goal;
    this.margin = margin;
    this.sensor = sensor;
    this.presses = files.stream().distinct().collect(Collectors.groupingBy(Inspection::press));
    presses.values().removeIf(press -> press.size() < 2);
  }

  private static Path press(Path file) {
    return file.resolveSibling(FrameFiles.press(file));
  }

  void read(Path file, FrameReading reading) {
    Optional<Path> other = companion(file);
    FrameReading whole = reading.withCompanion(other.map(path -> path.getFileName().toString()));
    if (other.isEmpty()) {
      toSets(file, whole);
    } else if (FrameFiles.isRaw(file)) {
      // The raw file speaks for the press.
      toSets(file, whole);
    }
    listing.frame(file, whole);
    other.ifPresent(path -> pair(file, whole, path));
  }

  /** What cannot be read may leave the other file of its press alone. */
  void failed(Path file, String error) {
    failed = true;
    listing.failed(file, error);
    companion(file)
        .ifPresent(
            other -> {
              FrameReading read = halves.remove(other);
              if (read != null && !FrameFiles.isRaw(other)) {
                toSets(other, read);
              }
              presses.remove(press(file));
            });
  }

  void end() {
    sets.end().forEach(this::review);
    listing.end();
  }

  boolean hasFailed() {
    return failed;
  }

  private void pair(Path file, FrameReading reading, Path other) {
    FrameReading earlier = halves.remove(other);
    if (earlier == null) {
      halves.put(file, reading);
      return;
    }
    boolean isRaw = FrameFiles.isRaw(file);
    FrameReading raw = isRaw ? reading : earlier;
    if (raw.measure().source() != FrameSource.FULL) {
      listing.pair(isRaw ? file : other, raw, isRaw ? other : file, isRaw ? earlier : reading);
    }
  }

  /** The other given file of the same shutter press: same place, same stem, a JPEG and a raw. */
  private Optional<Path> companion(Path file) {
    String name = file.getFileName().toString();
    return presses.getOrDefault(press(file), List.of()).stream()
        .filter(other -> FrameReader.areOnePress(name, other.getFileName().toString()))
        .sorted()
        .findFirst();
  }

  private void toSets(Path file, FrameReading reading) {
    ShotFrame.of(file.toString(), reading)
        .ifPresent(frame -> sets.add(frame).forEach(this::review));
  }

  private void review(List<ShotFrame> set) {
    List<Evidence> frames = set.stream().map(ShotFrame::evidence).toList();
    boolean raw = frames.stream().allMatch(frame -> frame.source() == FrameSource.RAW);
    if (!raw && !told) {
      told = true;
      listing.note(margin.why());
    }
    NoiseModel noise = raw ? sensor : margin.of(sensor);
    listing.set(set, SetReview.of(goal, noise, frames));
  }
}

package org.scenespan.folder;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.stream.Stream;
import org.scenespan.frame.FrameReading;
import org.scenespan.frame.Region;
import org.scenespan.session.Input;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * One look at the hot folder at a time: what came is paired, read, measured and told to the
 * session. Not for sharing between threads.
 */
public final class FolderScan {
  private static final Logger LOG = LoggerFactory.getLogger(FolderScan.class);

  private final HotFolder folder;
  private final Pairing pairing;
  private final FrameReader reader;
  private final Optional<PreviewStore> previews;
  private final Optional<EarlierFrames> earlier;
  private final Optional<ReferenceDesk> desk;
  private final Optional<Region> region;
  private final Map<String, Ahead> ahead = new HashMap<>();
  private final WarmUp warmUp = new WarmUp();
  private final GridBefore before = new GridBefore();
  private boolean lost;

  /** What was read of a file before its quiet time was over. */
  private record Ahead(HotFolder.Stamp stamp, FrameReader.Held held) {}

  public FolderScan(
      HotFolder folder, Pairing pairing, FrameReader reader, Optional<PreviewStore> previews) {
    this(folder, pairing, reader, previews, Optional.empty(), Optional.empty(), Optional.empty());
  }

  /**
   * @param earlier where each frame is set against those before it; without previews none is
   * @param desk holds each frame against the reference frame; needs previews
   * @param region by which a lapse is ramped; needs previews
   */
  public FolderScan(
      HotFolder folder,
      Pairing pairing,
      FrameReader reader,
      Optional<PreviewStore> previews,
      Optional<EarlierFrames> earlier,
      Optional<ReferenceDesk> desk,
      Optional<Region> region) {
    this.region = region;
    this.earlier = earlier;
    this.desk = desk;
    this.folder = folder;
    this.pairing = pairing;
    this.reader = reader;
    this.previews = previews;
  }

  public Path folder() {
    return folder.folder();
  }

  /** Something was done to a file of this name in the folder: the next look is at that, too. */
  public void hint(String name) {
    folder.hint(name);
  }

  /** Something may have been done to any file: the next look is at the whole folder. */
  void hintMissed() {
    folder.hintMissed();
  }

  /**
   * Looks once. A folder that cannot be listed is told once, and once when it is back; files that
   * came before are not told again.
   */
  public List<Input> scan(Instant now) {
    List<Input> inputs = new ArrayList<>();
    scan(now, inputs::add);
    return inputs;
  }

  /** Looks once as {@link #scan(Instant)} and hands each input over as soon as it is there. */
  void scan(Instant now, Consumer<Input> inbox) {
    List<Arrival> arrivals = List.of();
    try {
      arrivals = folder.scan(now);
      if (lost) {
        lost = false;
        inbox.accept(new Input.FolderReturned());
      }
    } catch (IOException e) {
      if (!lost) {
        lost = true;
        inbox.accept(new Input.FolderLost(e.getMessage()));
      }
    }
    for (Pairing.Chosen chosen : pairing.next(arrivals, folder.onTheWay(), now)) {
      Optional<Input> read = read(chosen);
      read.ifPresent(inbox);
      if (region.isPresent() && read.isPresent() && read.get() instanceof Input.FrameMeasured) {
        Room.after(chosen.arrival().file(), chosen.companion()).ifPresent(inbox);
      }
    }
    ahead.keySet().retainAll(folder.onTheWay());
  }

  /**
   * Reads one file that seems to be whole while its quiet time runs, so that the session need not
   * wait for that afterwards. Nothing is told of it before it is over, nor if the file changes.
   */
  void readAhead(Instant now) {
    Optional<GrowingFiles.Settling> settling = folder.settling(now);
    if (settling.isEmpty()) {
      return;
    }
    Path file = settling.get().file();
    String name = file.getFileName().toString();
    if (!pairing.measuresAtOnce(name)) {
      return;
    }
    try {
      ahead.put(name, new Ahead(settling.get().stamp(), held(file)));
    } catch (UnreadableFrame e) {
      LOG.debug("{} is not yet readable: {}", name, e.getMessage());
    }
  }

  /** When the next file may be read ahead; nothing where none may. */
  Optional<Instant> nextAhead() {
    return folder.nextSettling();
  }

  /** When a file on its way may be ready; nothing where none is. */
  public Optional<Instant> nextDue() {
    return Stream.of(folder.nextLook(), pairing.nextDue())
        .flatMap(Optional::stream)
        .min(Instant::compareTo);
  }

  /** Nothing for a raw file that cannot be read and whose JPEG has answered already. */
  private Optional<Input> read(Pairing.Chosen chosen) {
    String name = chosen.arrival().name();
    if (chosen.arrival() instanceof Arrival.Broken broken) {
      return Optional.of(new Input.FrameUnreadable(name, broken.reason()));
    }
    Path file = chosen.arrival().file();
    try {
      Ahead before = ahead.remove(name);
      boolean same = before != null && folder.isSettledAs(name, before.stamp());
      FrameReader.Held held = same ? before.held() : held(file);
      FrameReading paired = held.reading().withCompanion(chosen.companion());
      return Optional.of(
          new Input.FrameMeasured(
              chosen.replaces().map(paired::inPlaceOf).orElse(paired),
              held.against(),
              held.deviation(),
              held.level(),
              held.steadiness()));
    } catch (UnreadableFrame e) {
      if (chosen.replaces().isPresent()) {
        LOG.warn("{} keeps its JPEG's numbers: {}", name, e.getMessage());
        return Optional.empty();
      }
      return Optional.of(new Input.FrameUnreadable(name, e.getMessage()));
    }
  }

  WarmUp warmUp() {
    return warmUp;
  }

  private FrameReader.Held held(Path file) throws UnreadableFrame {
    warmUp.end();
    if (previews.isPresent() && region.isPresent()) {
      return reader.read(file, previews.get(), before, region.get());
    }
    return previews.isPresent() && desk.isPresent()
        ? reader.read(file, previews.get(), desk.get())
        : new FrameReader.Held(
            reader.read(file, previews, earlier), ReferenceDesk.Look.AGAINST_NOTHING);
  }
}

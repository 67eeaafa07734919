package org.scenespan.folder;

import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.Iterator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Makes one frame of the raw file and the JPEG of one shutter press: same stem, whatever the
 * extension's case. Not for sharing between threads.
 *
 * <p>The file that is to be measured is taken at once. The other one waits for it for a bounded
 * time and is measured itself if it never comes; after that, a late file of the press is a silent
 * companion. A name that comes again is a new press. Where the JPEG is to answer first, it is taken
 * at once as well, and the raw file takes its place whenever it comes. Which of two files that came
 * between two looks was written first makes no difference: disks keep time too coarsely to tell.
 */
public final class Pairing {
  private static final Logger LOG = LoggerFactory.getLogger(Pairing.class);

  /** How long a file waits for the one that is to be measured. */
  public static final Duration WAIT = Duration.ofSeconds(5);

  /** How long it waits at most while that one is seen to be on its way, over a slow link. */
  public static final Duration LONGEST_WAIT = Duration.ofSeconds(60);

  /** How often a file on its way is asked for again. */
  private static final Duration AGAIN = Duration.ofMillis(500);

  /** Presses that are remembered for a late companion. */
  private static final int MAX_PRESSES = 10_000;

  private final Measure measure;
  private final Duration wait;

  /** By stem, the oldest first: those of which one kind of file has come. */
  private final Map<String, Press> presses = new LinkedHashMap<>();

  /** By stem: of those, the few that wait. */
  private final Map<String, Waiting> waiting = new LinkedHashMap<>();

  /**
   * A file to be measured.
   *
   * @param companion the name of the other file of the press, if it has come
   * @param replaces the name of the file of the press that was chosen before, whose place this one
   *     takes
   */
  public record Chosen(Arrival arrival, Optional<String> companion, Optional<String> replaces) {
    Chosen(Arrival arrival, Optional<String> companion) {
      this(arrival, companion, Optional.empty());
    }
  }

  /** A shutter press of which one kind of file has come; ten thousand may be remembered. */
  private static final class Press {
    private final FrameName.Kind kind;
    private Arrival answered;

    Press(FrameName.Kind kind) {
      this.kind = kind;
    }
  }

  /** A file that waits for the one that is to be measured. */
  private record Waiting(Arrival arrival, Instant until, Instant atLast) {}

  /**
   * @param measure which file is to be measured where both come
   * @param wait how long the other one waits for it; usually {@link #WAIT}
   */
  public Pairing(Measure measure, Duration wait) {
    this.measure = measure;
    this.wait = wait;
  }

  /**
   * The files to measure now, given what has just arrived.
   *
   * @param onTheWay names of files that are there but not yet whole
   */
  public List<Chosen> next(List<Arrival> arrivals, Set<String> onTheWay, Instant now) {
    List<Chosen> chosen = new ArrayList<>();
    for (List<Arrival> press : byPress(arrivals)) {
      for (Arrival arrival : press) {
        Optional<FrameName> name = FrameName.of(arrival.name());
        if (name.isEmpty() || name.get().kind() == FrameName.Kind.OTHER) {
          chosen.add(new Chosen(arrival, Optional.empty()));
        } else {
          take(arrival, name.get(), now, chosen);
        }
      }
    }
    takeOverdue(onTheWay, now, chosen);
    forgetOldest();
    return chosen;
  }

  /** Whether a file is measured as soon as it is whole, if it is the first of its press. */
  boolean measuresAtOnce(String file) {
    return FrameName.of(file)
        .filter(
            name ->
                name.kind() == FrameName.Kind.OTHER
                    || measure == Measure.JPEG_THEN_RAW
                    || (measure == Measure.RAW) == (name.kind() == FrameName.Kind.RAW))
        .isPresent();
  }

  /** When the next file has waited long enough; nothing where none waits. */
  public Optional<Instant> nextDue() {
    return waiting.values().stream().map(Waiting::until).min(Comparator.naturalOrder());
  }

  /** What came at one look, the files of one press together, its JPEG before its raw file. */
  private static Collection<List<Arrival>> byPress(List<Arrival> arrivals) {
    Map<String, List<Arrival>> presses = new LinkedHashMap<>();
    for (Arrival arrival : arrivals) {
      String stem = FrameName.of(arrival.name()).map(FrameName::stem).orElse(arrival.name());
      presses.computeIfAbsent(stem, key -> new ArrayList<>()).add(arrival);
    }
    presses.values().forEach(press -> press.sort(Comparator.comparing(Pairing::isRaw)));
    return presses.values();
  }

  private static boolean isRaw(Arrival arrival) {
    return FrameName.of(arrival.name())
        .filter(name -> name.kind() == FrameName.Kind.RAW)
        .isPresent();
  }

  private void take(Arrival arrival, FrameName name, Instant now, List<Chosen> chosen) {
    String stem = name.stem();
    Press before = presses.remove(stem);
    Waiting waited = waiting.remove(stem);
    if (before == null || before.kind == name.kind()) {
      if (waited != null) {
        chosen.add(new Chosen(waited.arrival(), Optional.empty()));
      }
      presses.put(stem, first(arrival, name, now, chosen));
    } else {
      // With both of its files a press is over: what comes next is another one.
      second(arrival, name, before, Optional.ofNullable(waited).map(Waiting::arrival), chosen);
    }
  }

  private boolean isWanted(FrameName name) {
    return (measure != Measure.JPEG) == (name.kind() == FrameName.Kind.RAW);
  }

  private Press first(Arrival arrival, FrameName name, Instant now, List<Chosen> chosen) {
    Press press = new Press(name.kind());
    if (isWanted(name)) {
      chosen.add(new Chosen(arrival, Optional.empty()));
    } else if (measure == Measure.JPEG_THEN_RAW && arrival instanceof Arrival.Whole) {
      press.answered = arrival;
      chosen.add(new Chosen(arrival, Optional.empty()));
    } else {
      waiting.put(name.stem(), new Waiting(arrival, now.plus(wait), now.plus(LONGEST_WAIT)));
    }
    return press;
  }

  private void second(
      Arrival arrival, FrameName name, Press press, Optional<Arrival> waited, List<Chosen> chosen) {
    if (press.answered != null && isWanted(name) && arrival instanceof Arrival.Whole) {
      Optional<String> before = Optional.of(press.answered.name());
      chosen.add(new Chosen(arrival, before, before));
    } else if (waited.isPresent()) {
      chosen.add(better(arrival, waited.get()));
    } else if (arrival instanceof Arrival.Broken broken) {
      // Its press has been measured: for the session it would be a frame too many.
      LOG.warn("{} is broken, its press is measured already: {}", name.file(), broken.reason());
    }
  }

  /** The wanted file has come while the other waited; a broken one gives way to a whole one. */
  private static Chosen better(Arrival wanted, Arrival waiting) {
    boolean usable = wanted instanceof Arrival.Whole || !(waiting instanceof Arrival.Whole);
    Arrival taken = usable ? wanted : waiting;
    Path other = (usable ? waiting : wanted).file();
    return new Chosen(taken, Optional.of(other.getFileName().toString()));
  }

  private void takeOverdue(Set<String> onTheWay, Instant now, List<Chosen> chosen) {
    Iterator<Map.Entry<String, Waiting>> each = waiting.entrySet().iterator();
    while (each.hasNext()) {
      Map.Entry<String, Waiting> entry = each.next();
      Waiting one = entry.getValue();
      if (now.isBefore(one.until())) {
        continue;
      }
      if (now.isBefore(one.atLast()) && isWantedOnTheWay(entry.getKey(), onTheWay)) {
        entry.setValue(new Waiting(one.arrival(), now.plus(AGAIN), one.atLast()));
      } else {
        chosen.add(new Chosen(one.arrival(), Optional.empty()));
        each.remove();
      }
    }
  }

  private boolean isWantedOnTheWay(String stem, Set<String> onTheWay) {
    FrameName.Kind wanted = measure == Measure.JPEG ? FrameName.Kind.JPEG : FrameName.Kind.RAW;
    return onTheWay.stream()
        .flatMap(file -> FrameName.of(file).stream())
        .anyMatch(name -> name.kind() == wanted && name.stem().equals(stem));
  }

  private void forgetOldest() {
    Iterator<String> oldest = presses.keySet().iterator();
    while (presses.size() > MAX_PRESSES && oldest.hasNext()) {
      if (!waiting.containsKey(oldest.next())) {
        oldest.remove();
      }
    }
  }
}

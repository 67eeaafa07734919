package org.scenespan.dashboard;

import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Instant;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.scenespan.session.Event;
import org.scenespan.wire.EventJson;
import org.scenespan.wire.JournalRecord;

/**
 * A lapse so far, for a page that opens in the middle of it: its course as thinned columns, the
 * records of the newest shots, and those that tell of more than one shot. However long the lapse,
 * the answer is of the same size. One thread takes records, any may ask.
 */
public final class LapseSoFar {
  /** Shots whose records are handed over as they are. */
  static final int MOST_SHOTS = 100;

  /** Other records that are handed over, beyond those with which the session began. */
  static final int MOST_TOLD = 200;

  private static final JsonMapper MAPPER = JsonMapper.builder().build();

  /** What a page shows of a frame. */
  private static final Set<String> SHOWN =
      Set.of(
          "file",
          "preview",
          "mask",
          "width",
          "height",
          "shutterSeconds",
          "aperture",
          "iso",
          "ev",
          "clippedFraction",
          "crushedFraction",
          "histogramStops",
          "sharpness");

  /** A record that is handed over, written when the first page asks. */
  private static final class Told {
    private final JournalRecord record;
    private ObjectNode node;

    Told(JournalRecord record) {
      this.record = record;
    }

    Event event() {
      return record.event();
    }

    ObjectNode node() {
      if (node == null) {
        node = shown(record);
      }
      return node;
    }
  }

  private final List<Told> first = new ArrayList<>();
  private final Deque<Told> told = new ArrayDeque<>();
  private final Deque<Told> recent = new ArrayDeque<>();
  private final LapsePoints points = new LapsePoints();
  private int[] placeOfShot = new int[256];
  private long seq;
  private int shots;
  private int framed;
  private int lost;
  private int refused;
  private int skipped;

  /** Takes in a record of a lapse; each once and in order. */
  public synchronized void take(JournalRecord record) {
    seq = record.seq();
    Event event = record.event();
    if (event instanceof Event.ShotRamped ramped) {
      remember(ramped);
    }
    if (event instanceof Event.FrameMatched matched && isKnown(matched.shot())) {
      double scene = matched.exposure().ev().value();
      points.framed(
          placeOfShot[matched.shot() - 1],
          matched.exposure().ev(),
          matched.brightness().map(it -> scene + it.value()).orElse(Double.NaN));
    }
    Told next = new Told(record);
    if (isOfOneShot(event)) {
      recent.add(next);
      settle();
    } else if (isOfTheWhole(event)) {
      first.add(next);
    } else {
      told.add(next);
      if (told.size() > MOST_TOLD) {
        account(told.poll().event());
      }
    }
  }

  private boolean isKnown(int shot) {
    return shot >= 1 && shot <= placeOfShot.length && placeOfShot[shot - 1] > 0;
  }

  private void remember(Event.ShotRamped ramped) {
    if (ramped.shot() > placeOfShot.length) {
      placeOfShot = Arrays.copyOf(placeOfShot, 2 * ramped.shot());
    }
    placeOfShot[ramped.shot() - 1] = ramped.place();
    points.chosen(ramped.place(), ramped.exposure().ev(), ramped.wanted());
  }

  private static boolean isOfTheWhole(Event event) {
    return event instanceof Event.SessionOpened
        || event instanceof Event.LapseBegan
        || event instanceof Event.Report;
  }

  private static boolean isOfOneShot(Event event) {
    return event instanceof Event.ShotRamped
        || event instanceof Event.ShotCommanded
        || event instanceof Event.ShotConfirmed
        || event instanceof Event.FrameMatched
        || event instanceof Event.ShotLost
        || event instanceof Event.ShotRefused;
  }

  /** Lets the oldest shots go into the account, with all that was told of them. */
  private void settle() {
    Told newest = recent.peekLast();
    if (newest.event() instanceof Event.ShotRamped) {
      // Of an older shot its frame tells that it was commanded.
      recent.removeIf(
          each ->
              each.event() instanceof Event.ShotCommanded
                  || each.event() instanceof Event.ShotConfirmed);
    }
    long chosen = recent.stream().filter(each -> each.event() instanceof Event.ShotRamped).count();
    for (long surplus = chosen - MOST_SHOTS; surplus > 0; surplus--) {
      do {
        account(recent.poll().event());
      } while (!(recent.peek().event() instanceof Event.ShotRamped));
    }
  }

  private void account(Event event) {
    if (event instanceof Event.ShotRamped) {
      shots++;
    } else if (event instanceof Event.FrameMatched matched) {
      framed++;
      lost -= matched.late() ? 1 : 0;
    } else if (event instanceof Event.ShotLost) {
      lost++;
    } else if (event instanceof Event.ShotRefused) {
      refused++;
    } else if (event instanceof Event.PlacesSkipped passed) {
      skipped += passed.to() - passed.from() + 1;
    }
  }

  private static ObjectNode shown(JournalRecord record) {
    ObjectNode node = EventJson.tree(record);
    if (node.get("frame") instanceof ObjectNode frame) {
      frame.retain(SHOWN);
    }
    if (record.event() instanceof Event.LapseReport) {
      node.remove("frames");
    }
    return node;
  }

  /**
   * All of it as one JSON object; empty before the session is opened.
   *
   * @param now the host's time, by which a page tells how long it is until something
   */
  public synchronized Optional<String> json(Instant now) {
    if (first.isEmpty()) {
      return Optional.empty();
    }
    ObjectNode node = MAPPER.createObjectNode();
    node.put("seq", seq);
    node.put("now", now.toString());
    List<Told> all = new ArrayList<>(first);
    all.addAll(told);
    all.addAll(recent);
    all.sort((one, other) -> Long.compare(one.record.seq(), other.record.seq()));
    ObjectNode account = account();
    ArrayNode records = node.putArray("records");
    boolean put = false;
    for (Told each : all) {
      // After what came before the newest shots, so that these are counted on from it.
      if (!put && each == recent.peek()) {
        account.put("seq", each.record.seq() - 0.5);
        records.add(account);
        put = true;
      }
      records.add(each.node());
    }
    return Optional.of(node.toString());
  }

  private ObjectNode account() {
    ObjectNode node = MAPPER.createObjectNode();
    node.put("type", "lapse-so-far");
    node.put("shots", shots);
    node.put("framed", framed);
    node.put("lost", lost);
    node.put("refused", refused);
    node.put("skipped", skipped);
    int before =
        recent.stream()
            .map(Told::event)
            .filter(Event.ShotRamped.class::isInstance)
            .mapToInt(event -> ((Event.ShotRamped) event).place())
            .findFirst()
            .orElse(1);
    points.write(node.putObject("course"), before);
    return node;
  }
}

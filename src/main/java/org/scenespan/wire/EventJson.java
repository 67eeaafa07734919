package org.scenespan.wire;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.JsonMappingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.SerializationFeature;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import com.fasterxml.jackson.datatype.jdk8.Jdk8Module;
import com.fasterxml.jackson.datatype.jsr310.JavaTimeModule;
import java.lang.reflect.RecordComponent;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.TreeMap;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.light.Share;
import org.scenespan.light.Stops;
import org.scenespan.plan.SceneHistogram;
import org.scenespan.plan.SpanEstimate;
import org.scenespan.session.Event;
import org.scenespan.session.Match;
import org.scenespan.session.Session;
import org.scenespan.session.Setup;

/**
 * A record as one line of JSON and back. The type's name is the event's name in lower case with
 * hyphens: {@code ShotPlanned} is {@code shot-planned}.
 */
public final class EventJson {
  private static final Map<String, Class<?>> TYPES = types();

  private static final ClassValue<String> NAMES =
      new ClassValue<>() {
        @Override
        protected String computeValue(Class<?> type) {
          return named(type);
        }
      };

  /** What gives a record's parts; the virtual machine looks them up anew each time it is asked. */
  private static final ClassValue<RecordComponent[]> PARTS =
      new ClassValue<>() {
        @Override
        protected RecordComponent[] computeValue(Class<?> type) {
          return type.getRecordComponents();
        }
      };

  private static final ObjectMapper MAPPER =
      JsonMapper.builder()
          .addModule(new Jdk8Module())
          .addModule(new JavaTimeModule())
          .addModule(Scalars.module())
          .disable(SerializationFeature.WRITE_DATES_AS_TIMESTAMPS)
          .disable(DeserializationFeature.FAIL_ON_UNKNOWN_PROPERTIES)
          .build();

  private EventJson() {}

  private static Map<String, Class<?>> types() {
    Map<String, Class<?>> types = new TreeMap<>();
    for (Class<?> type : Event.class.getPermittedSubclasses()) {
      types.put(named(type), type);
    }
    return types;
  }

  private static String name(Class<?> type) {
    return NAMES.get(type);
  }

  private static String named(Class<?> type) {
    return type.getSimpleName().replaceAll("([a-z])([A-Z])", "$1-$2").toLowerCase(Locale.ROOT);
  }

  /** The names of all types of record, in alphabetical order. */
  public static List<String> typeNames() {
    return List.copyOf(TYPES.keySet());
  }

  /** One line, without its line end. */
  public static String write(JournalRecord record) {
    try {
      return MAPPER.writeValueAsString(tree(record));
    } catch (JsonProcessingException impossible) {
      throw new IllegalStateException("a tree of JSON always has a text", impossible);
    }
  }

  /** The same as an object of its own, for whoever hands on a part of it. */
  public static ObjectNode tree(JournalRecord record) {
    ObjectNode node = MAPPER.createObjectNode();
    node.put("seq", record.seq());
    node.put("at", record.at().toString());
    Event event = record.event();
    node.put("type", name(event instanceof Event.Report ? Event.Report.class : event.getClass()));
    if (event instanceof Event.SessionOpened opened) {
      node.put("version", opened.version());
      SetupJson.write(node, opened.setup(), MAPPER);
    } else if (event instanceof Event.FrameAccepted accepted) {
      writeAccepted(node, accepted);
    } else if (event instanceof Event.FrameWatched watched) {
      TetherJson.write(node, watched, MAPPER);
    } else if (event instanceof Event.FrameMatched matched) {
      LapseJson.write(node, matched, MAPPER);
    } else if (event instanceof Event.FrameDoubted doubted) {
      LapseJson.write(node, doubted);
    } else if (event instanceof Event.RigShotFramed framed) {
      RigJson.write(node, framed);
    } else if (event instanceof Event.LapseReport report) {
      LapseJson.write(node, report);
    } else if (event instanceof Event.FrameRefined refined) {
      writeRefined(node, refined);
    } else if (event instanceof Event.SpanEstimated estimated) {
      writeSpan(node, estimated.span());
    } else {
      ObjectNode fields = MAPPER.valueToTree(event);
      fields.properties().forEach(field -> putUnlessNull(node, field));
    }
    return node;
  }

  private static void putUnlessNull(ObjectNode node, Map.Entry<String, JsonNode> field) {
    if (!field.getValue().isNull()) {
      node.set(field.getKey(), field.getValue());
    }
  }

  /**
   * Reads one line.
   *
   * @throws MalformedRecord if it is no whole record; the message says why
   */
  public static JournalRecord read(String line) throws MalformedRecord {
    try {
      JsonNode node = MAPPER.readTree(line);
      if (node == null || !node.isObject()) {
        throw new MalformedRecord("not a JSON object");
      }
      Class<?> type = TYPES.get(Nodes.text(node, "type"));
      if (type == null) {
        throw new MalformedRecord("unknown type \"" + Nodes.text(node, "type") + "\"");
      }
      long seq = node.path("seq").asLong(0);
      Event event = event(type, node);
      requireWhole(event);
      return new JournalRecord(seq, Instant.parse(Nodes.text(node, "at")), event);
    } catch (JsonMappingException wrong) {
      throw new MalformedRecord(where(wrong) + firstLine(wrong.getOriginalMessage()));
    } catch (JsonProcessingException | RuntimeException wrong) {
      throw new MalformedRecord(firstLine(wrong.getMessage()));
    }
  }

  /** A field that is missing would be found out much later. */
  private static void requireWhole(Event event) throws MalformedRecord {
    for (RecordComponent part : PARTS.get(event.getClass())) {
      try {
        if (part.getAccessor().invoke(event) == null) {
          throw new MalformedRecord("field " + part.getName() + " is missing");
        }
      } catch (ReflectiveOperationException impossible) {
        throw new IllegalStateException("an event is a public record", impossible);
      }
    }
  }

  private static String where(JsonMappingException wrong) {
    return wrong.getPath().stream()
        .map(JsonMappingException.Reference::getFieldName)
        .filter(Objects::nonNull)
        .reduce((outer, inner) -> outer + "." + inner)
        .map(path -> "field " + path + ": ")
        .orElse("");
  }

  private static String firstLine(String message) {
    return message == null ? "no reason given" : message.lines().findFirst().orElse("");
  }

  private static Event event(Class<?> type, JsonNode node) throws JsonProcessingException {
    if (type == Event.SessionOpened.class) {
      int version = Nodes.integer(node, "version");
      if (version != Session.VERSION) {
        throw new IllegalArgumentException("version (" + version + ") is not " + Session.VERSION);
      }
      Setup setup = SetupJson.read(node, MAPPER);
      // Parts that fit one by one may contradict each other; no session was opened with such.
      setup.check();
      return new Event.SessionOpened(version, setup);
    }
    if (type == Event.FrameAccepted.class) {
      return readAccepted(node);
    }
    if (type == Event.FrameWatched.class) {
      return TetherJson.watched(node, MAPPER);
    }
    if (type == Event.FrameMatched.class) {
      return LapseJson.matched(node, MAPPER);
    }
    if (type == Event.FrameDoubted.class) {
      return LapseJson.doubted(node);
    }
    if (type == Event.RigShotFramed.class) {
      return RigJson.read(node);
    }
    if (type == Event.FrameRefined.class) {
      return readRefined(node);
    }
    if (type == Event.SpanEstimated.class) {
      return new Event.SpanEstimated(readSpan(node));
    }
    if (type == Event.Report.class && Nodes.text(node, "kind").equals("lapse")) {
      return LapseJson.report(node, MAPPER);
    }
    if (type == Event.Report.class) {
      return (Event) MAPPER.treeToValue(node, report(Nodes.text(node, "kind")));
    }
    return (Event) MAPPER.treeToValue(node, type);
  }

  /** A lapse's report is a {@code LapseReport}, and so on. */
  private static Class<?> report(String kind) {
    for (Class<?> type : Event.Report.class.getPermittedSubclasses()) {
      if (name(type).equals(kind + "-report")) {
        return type;
      }
    }
    throw new IllegalArgumentException("unknown kind \"" + kind + "\"");
  }

  private static void writeAccepted(ObjectNode node, Event.FrameAccepted event) {
    node.put("shot", event.shot());
    node.put("matched", event.matched().label());
    node.put("late", event.late());
    node.set("exposure", MAPPER.valueToTree(event.exposure()));
    node.put("reachLowEv", Scalars.tidy(event.reachLowEv().value()));
    node.put("reachHighEv", Scalars.tidy(event.reachHighEv().value()));
    node.put("clippedFraction", event.clippedFraction().value());
    node.put("belowFloorFraction", Scalars.tidy(event.belowFloorFraction().value()));
    event.clock().ifPresent(clock -> LapseJson.write(node.putObject("cameraClock"), clock));
    node.set("frame", FrameJson.write(event.frame()));
  }

  private static Event readAccepted(JsonNode node) throws JsonProcessingException {
    return new Event.FrameAccepted(
        Nodes.integer(node, "shot"),
        MAPPER.treeToValue(node.get("matched"), Match.Proof.class),
        node.path("late").asBoolean(),
        MAPPER.treeToValue(node.get("exposure"), Exposure.class),
        FrameJson.read(Nodes.object(node, "frame")),
        new Ev(Nodes.number(node, "reachLowEv")),
        new Ev(Nodes.number(node, "reachHighEv")),
        new Share(Nodes.number(node, "clippedFraction")),
        new Share(Nodes.number(node, "belowFloorFraction")),
        LapseJson.clock(node));
  }

  private static void writeRefined(ObjectNode node, Event.FrameRefined event) {
    node.put("shot", event.shot());
    node.put("replaces", event.replaces());
    node.put("reachLowEv", Scalars.tidy(event.reachLowEv().value()));
    node.put("reachHighEv", Scalars.tidy(event.reachHighEv().value()));
    node.put("clippedFraction", event.clippedFraction().value());
    node.put("belowFloorFraction", Scalars.tidy(event.belowFloorFraction().value()));
    node.set("frame", FrameJson.write(event.frame()));
  }

  private static Event readRefined(JsonNode node) {
    return new Event.FrameRefined(
        Nodes.integer(node, "shot"),
        Nodes.text(node, "replaces"),
        FrameJson.read(Nodes.object(node, "frame")),
        new Ev(Nodes.number(node, "reachLowEv")),
        new Ev(Nodes.number(node, "reachHighEv")),
        new Share(Nodes.number(node, "clippedFraction")),
        new Share(Nodes.number(node, "belowFloorFraction")));
  }

  private static void writeSpan(ObjectNode node, SpanEstimate span) {
    node.put("spanLowEv", Scalars.tidy(span.low().value()));
    node.put("spanHighEv", Scalars.tidy(span.high().value()));
    node.put("lowIsGuess", span.lowIsGuess());
    node.put("highIsGuess", span.highIsGuess());
    node.put("openAboveStops", Scalars.tidy(span.openAbove().value()));
    node.put("openBelowStops", Scalars.tidy(span.openBelow().value()));
    node.put("gapStops", Scalars.tidy(span.gap().value()));
    ObjectNode histogram = node.putObject("histogram");
    histogram.put("fromEv", Scalars.tidy(span.histogram().fromEv().value()));
    histogram.put("binsPerStop", span.histogram().binsPerStop());
    histogram.set("shares", MAPPER.valueToTree(span.histogram().shares()));
  }

  private static SpanEstimate readSpan(JsonNode node) {
    JsonNode histogram = Nodes.object(node, "histogram");
    List<Double> shares = new ArrayList<>();
    histogram.path("shares").forEach(share -> shares.add(share.asDouble()));
    return new SpanEstimate(
        new Ev(Nodes.number(node, "spanLowEv")),
        new Ev(Nodes.number(node, "spanHighEv")),
        node.path("lowIsGuess").asBoolean(),
        node.path("highIsGuess").asBoolean(),
        new Stops(Nodes.number(node, "openAboveStops")),
        new Stops(Nodes.number(node, "openBelowStops")),
        new Stops(Nodes.number(node, "gapStops")),
        new SceneHistogram(
            new Ev(Nodes.number(histogram, "fromEv")),
            Nodes.integer(histogram, "binsPerStop"),
            shares));
  }
}

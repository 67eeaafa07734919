package org.scenespan.wire;

import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.databind.DeserializationContext;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.SerializerProvider;
import com.fasterxml.jackson.databind.deser.std.StdDeserializer;
import com.fasterxml.jackson.databind.module.SimpleModule;
import com.fasterxml.jackson.databind.ser.std.StdSerializer;
import java.io.IOException;
import java.util.HashMap;
import java.util.Map;
import java.util.function.DoubleFunction;
import java.util.function.Function;
import java.util.function.ToDoubleFunction;
import org.scenespan.frame.Deviation;
import org.scenespan.light.Aperture;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Share;
import org.scenespan.light.Shutter;
import org.scenespan.light.Stops;
import org.scenespan.plan.guard.Finding;
import org.scenespan.session.Mark;
import org.scenespan.session.Match;
import org.scenespan.session.Stopped;

/** How single quantities are written: as bare numbers, shown as a photographer names them. */
final class Scalars {
  private Scalars() {}

  static SimpleModule module() {
    SimpleModule module = new SimpleModule("scenespan-scalars");
    number(module, Ev.class, ev -> tidy(ev.value()), Ev::new);
    number(module, Stops.class, stops -> tidy(stops.value()), Stops::new);
    number(module, Share.class, share -> tidy(share.value()), Share::new);
    number(module, Shutter.class, Scalars::seconds, Shutter::ofNominal);
    number(module, Aperture.class, aperture -> tidy(aperture.nominalNumber()), Aperture::ofNominal);
    number(module, Iso.class, iso -> tidy(iso.nominalSpeed()), Iso::ofNominal);
    label(module, Match.Proof.class, Match.Proof::label);
    label(module, Stopped.class, Stopped::label);
    label(module, Mark.class, Mark::label);
    label(module, Finding.Kind.class, Finding.Kind::label);
    label(module, Finding.Weight.class, Finding.Weight::label);
    label(module, Deviation.Edge.class, Deviation.Edge::label);
    module.addSerializer(Exposure.class, new ExposureWriter());
    module.addDeserializer(Exposure.class, new ExposureReader());
    return module;
  }

  /** Six decimals: far below anything that can be measured, and readable. */
  static double tidy(double value) {
    double rounded = Math.rint(value * 1e6) / 1e6;
    return rounded == 0 ? 0 : rounded;
  }

  static double seconds(Shutter shutter) {
    double shown = shutter.nominalSeconds();
    // 1/8000 s needs more decimals than six.
    return Math.rint(shown * 1e9) / 1e9;
  }

  private static <T> void number(
      SimpleModule module, Class<T> type, ToDoubleFunction<T> write, DoubleFunction<T> read) {
    module.addSerializer(
        type,
        new StdSerializer<T>(type) {
          private static final long serialVersionUID = 1;

          @Override
          public void serialize(T value, JsonGenerator out, SerializerProvider provider)
              throws IOException {
            double number = write.applyAsDouble(value);
            if (type == Iso.class && number == Math.rint(number)) {
              out.writeNumber((long) number);
            } else {
              out.writeNumber(number);
            }
          }
        });
    module.addDeserializer(
        type,
        new StdDeserializer<T>(type) {
          private static final long serialVersionUID = 1;

          @Override
          public T deserialize(JsonParser in, DeserializationContext context) throws IOException {
            return read.apply(in.getDoubleValue());
          }
        });
  }

  private static <T extends Enum<T>> void label(
      SimpleModule module, Class<T> type, Function<T, String> label) {
    module.addSerializer(
        type,
        new StdSerializer<T>(type) {
          private static final long serialVersionUID = 1;

          @Override
          public void serialize(T value, JsonGenerator out, SerializerProvider provider)
              throws IOException {
            out.writeString(label.apply(value));
          }
        });
    Map<String, T> byLabel = new HashMap<>();
    for (T constant : type.getEnumConstants()) {
      byLabel.put(label.apply(constant), constant);
    }
    module.addDeserializer(
        type,
        new StdDeserializer<T>(type) {
          private static final long serialVersionUID = 1;

          @Override
          public T deserialize(JsonParser in, DeserializationContext context) throws IOException {
            T found = byLabel.get(in.getText());
            return found == null
                ? type.cast(
                    context.handleWeirdStringValue(
                        type, in.getText(), "one of %s", byLabel.keySet()))
                : found;
          }
        });
  }

  /** The engraved time for people, the exact one for replaying. */
  private static final class ExposureWriter extends StdSerializer<Exposure> {
    private static final long serialVersionUID = 1;

    ExposureWriter() {
      super(Exposure.class);
    }

    @Override
    public void serialize(Exposure exposure, JsonGenerator out, SerializerProvider provider)
        throws IOException {
      out.writeStartObject();
      provider.defaultSerializeField("shutterSeconds", exposure.shutter(), out);
      out.writeNumberField("exactSeconds", exposure.shutter().seconds());
      provider.defaultSerializeField("aperture", exposure.aperture(), out);
      provider.defaultSerializeField("iso", exposure.iso(), out);
      provider.defaultSerializeField("ev", exposure.ev(), out);
      out.writeEndObject();
    }
  }

  private static final class ExposureReader extends StdDeserializer<Exposure> {
    private static final long serialVersionUID = 1;

    ExposureReader() {
      super(Exposure.class);
    }

    @Override
    public Exposure deserialize(JsonParser in, DeserializationContext context) throws IOException {
      JsonNode node = in.readValueAsTree();
      Shutter shutter =
          node.has("exactSeconds")
              ? new Shutter(Nodes.number(node, "exactSeconds"))
              : Shutter.ofNominal(Nodes.number(node, "shutterSeconds"));
      return new Exposure(
          shutter,
          Aperture.ofNominal(Nodes.number(node, "aperture")),
          Iso.ofNominal(Nodes.number(node, "iso")));
    }
  }
}

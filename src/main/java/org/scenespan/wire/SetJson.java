package org.scenespan.wire;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.List;
import org.scenespan.light.Exposure;
import org.scenespan.plan.SetReview;
import org.scenespan.plan.ShotFrame;

/** A set that is already shot, as the object that {@code inspect --sets --json} prints. */
public final class SetJson {
  private SetJson() {}

  public static ObjectNode write(List<ShotFrame> frames, SetReview review) {
    ObjectNode node = JsonNodeFactory.instance.objectNode();
    ArrayNode files = node.putArray("files");
    frames.forEach(frame -> files.add(frame.file()));
    frames.get(0).camera().ifPresent(camera -> node.put("camera", camera));
    node.put("spanLowEv", Scalars.tidy(review.span().low().value()));
    node.put("spanHighEv", Scalars.tidy(review.span().high().value()));
    node.put("covered", review.isCovered());
    ArrayNode lost = node.putArray("lost");
    for (SetReview.Loss loss : review.losses()) {
      ObjectNode one = lost.addObject();
      one.put("where", loss.where().label());
      one.put("lowEv", Scalars.tidy(loss.low().value()));
      one.put("highEv", Scalars.tidy(loss.high().value()));
      one.put("stops", Scalars.tidy(loss.stops().value()));
      one.put("share", Scalars.tidy(loss.share().value()));
      one.put("guess", loss.guess());
    }
    ArrayNode missing = node.putArray("wouldHaveTaken");
    for (SetReview.Missing one : review.missing()) {
      ObjectNode exposure = missing.addObject();
      put(exposure, one.exposure());
      exposure.put("beyondStops", Scalars.tidy(one.beyond().value()));
    }
    ArrayNode needless = node.putArray("notNeeded");
    review.needless().forEach(place -> needless.add(frames.get(place).file()));
    return node;
  }

  private static void put(ObjectNode node, Exposure exposure) {
    node.put("shutterSeconds", Scalars.seconds(exposure.shutter()));
    node.put("aperture", Scalars.tidy(exposure.aperture().nominalNumber()));
    node.put("iso", Scalars.tidy(exposure.iso().nominalSpeed()));
    node.put("ev", Scalars.tidy(exposure.ev().value()));
  }
}

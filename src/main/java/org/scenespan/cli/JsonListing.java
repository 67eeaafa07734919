package org.scenespan.cli;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.List;
import org.scenespan.frame.FrameReading;
import org.scenespan.plan.SetReview;
import org.scenespan.plan.ShotFrame;
import org.scenespan.wire.FrameJson;
import org.scenespan.wire.SetJson;

/**
 * An object a line.
 *
 * @param sets whether a line is a set, else a file; what cannot be read has a line in both
 */
record JsonListing(PrintWriter out, boolean sets) implements FrameListing {
  @Override
  public void frame(Path file, FrameReading reading) {
    if (!sets) {
      ObjectNode node = FrameJson.inspected(reading);
      node.put("file", file.toString());
      out.println(node);
    }
  }

  @Override
  public void failed(Path file, String error) {
    ObjectNode node = JsonNodeFactory.instance.objectNode();
    node.put("file", file.toString());
    node.put("error", error);
    out.println(node);
  }

  @Override
  public void set(List<ShotFrame> frames, SetReview review) {
    if (sets) {
      out.println(SetJson.write(frames, review));
    }
  }
}

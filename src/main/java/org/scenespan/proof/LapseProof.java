package org.scenespan.proof;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.scenespan.light.Ev;
import org.scenespan.light.Stops;

/**
 * Assembles a lapse to check it: an evened film and a plot of the brightness, in a folder of its
 * own. The frames are only read.
 */
public final class LapseProof {
  /** The film. */
  public static final String FILM = "evened.mp4";

  /** The plot. */
  public static final String PLOT = "brightness.svg";

  private final PictureReader reader;
  private final Progress progress;

  /**
   * A frame of a lapse that was fired.
   *
   * @param seconds since the first
   * @param ev of its exposure
   * @param file its file, where one came
   * @param error how much brighter it is than was meant, where it was read
   * @param gain its evening gain, where it was read
   */
  public record Frame(
      double seconds, Ev ev, Optional<Path> file, Optional<Stops> error, Optional<Stops> gain) {}

  /**
   * What was made.
   *
   * @param folder where
   * @param frames in the film
   * @param skipped files that are not in it and why, a sentence each
   */
  public record Result(Path folder, int frames, List<String> skipped) {
    public Result {
      skipped = List.copyOf(skipped);
    }
  }

  public LapseProof(PictureReader reader, Progress progress) {
    this.reader = reader;
    this.progress = progress;
  }

  /**
   * @param rate frames a second, 1 to 120
   * @param folder is created if it is not there
   * @throws IOException if no frame can be read, or the proof not be written
   */
  public Result make(List<Frame> frames, int rate, Path folder) throws IOException {
    if (frames.isEmpty()) {
      throw new IllegalArgumentException("the lapse has no frames");
    }
    if (!(rate >= 1 && rate <= 120)) {
      throw new IllegalArgumentException("rate (" + rate + ") must be 1 to 120 frames a second");
    }
    List<Film.Frame> pictures = new ArrayList<>();
    List<BrightnessPlot.Point> points = new ArrayList<>();
    for (Frame frame : frames) {
      Stops gain = frame.gain().orElse(Stops.ZERO);
      frame.file().ifPresent(file -> pictures.add(new Film.Frame(file, gain)));
      points.add(
          new BrightnessPlot.Point(
              frame.seconds(),
              frame.ev(),
              frame.error(),
              frame.error().filter(it -> frame.gain().isPresent()).map(it -> it.plus(gain))));
    }
    try (OutputFolder output = OutputFolder.open(folder, List.of(FILM, PLOT))) {
      Film.Made made = new Film(reader, progress).write(pictures, output.begin(FILM), rate);
      output.end(FILM);
      try (OutputStream out = output.create(PLOT)) {
        out.write(BrightnessPlot.of(points).getBytes(StandardCharsets.UTF_8));
      }
      output.publish(list(made, rate, output));
      progress.at("film", 1);
      return new Result(folder, made.frames(), made.skipped());
    }
  }

  private static String list(Film.Made made, int rate, OutputFolder output) throws IOException {
    ObjectMapper mapper = new ObjectMapper();
    ObjectNode list = mapper.createObjectNode();
    list.put("format", ProofResult.FORMAT);
    list.put("kind", "lapse");
    list.put("frames", made.frames());
    list.put("framesPerSecond", rate);
    made.skipped().forEach(list.putArray("skipped")::add);
    ObjectNode digests = list.putObject("sha256");
    output.digests().forEach(digests::put);
    return mapper.writerWithDefaultPrettyPrinter().writeValueAsString(list) + "\n";
  }
}

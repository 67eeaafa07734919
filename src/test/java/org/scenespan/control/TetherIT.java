package org.scenespan.control;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.image.BufferedImage;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.scenespan.frame.Patch;
import org.scenespan.frame.ToneResponse;
import org.scenespan.journal.Sessions;
import org.scenespan.plan.guard.Levels;
import org.scenespan.session.Event;
import org.scenespan.session.Gear;
import org.scenespan.session.Input;
import org.scenespan.session.Patience;
import org.scenespan.session.State;
import org.scenespan.session.TetherSetup;

/** A tether in a real folder, from files to findings, with a patch marked on the way. */
@Timeout(60)
class TetherIT {
  private static final int WIDTH = 1200;
  private static final int HEIGHT = 800;

  @TempDir private Path directory;
  private final LinkedBlockingQueue<Event> told = new LinkedBlockingQueue<>();
  private final Random random = new Random(11);

  /**
   * A still life of blocks on a table with a grey card, lit by a flash.
   *
   * @param stops of light against the first frame
   * @param dark the part of the frame from below that the flash did not reach
   */
  private void shoot(String name, double stops, double dark) throws IOException {
    BufferedImage picture = new BufferedImage(WIDTH, HEIGHT, BufferedImage.TYPE_INT_RGB);
    Graphics2D brush = picture.createGraphics();
    Random still = new Random(2);
    for (int i = 0; i < 60; i++) {
      brush.setColor(new Color(90 + still.nextInt(90), 90 + still.nextInt(90), 90));
      brush.fillRect(still.nextInt(WIDTH), still.nextInt(HEIGHT), 200, 150);
    }
    brush.setColor(new Color(118, 118, 118));
    brush.fillRect(500, 300, 160, 120);
    brush.dispose();
    for (int y = 0; y < HEIGHT; y++) {
      double light = Math.pow(2, stops) * (y > HEIGHT * (1 - dark) ? 0.2 : 1);
      for (int x = 0; x < WIDTH; x++) {
        picture.setRGB(x, y, lit(picture.getRGB(x, y), light));
      }
    }
    Path half = directory.resolve(name + ".tmp");
    ImageIO.write(picture, "jpeg", half.toFile());
    Files.move(half, directory.resolve("frames").resolve(name), StandardCopyOption.ATOMIC_MOVE);
  }

  private int lit(int rgb, double light) {
    int lit = 0;
    for (int shift = 16; shift >= 0; shift -= 8) {
      double linear = ToneResponse.srgbToLinear((rgb >> shift & 0xff) / 255.0) * light;
      double noisy = Math.max(0, Math.min(1, linear * (1 + 0.02 * random.nextGaussian())));
      lit |= (int) Math.round(255 * ToneResponse.linearToSrgb(noisy)) << shift;
    }
    return lit;
  }

  private Event.FrameWatched next() throws InterruptedException {
    while (true) {
      Event event = told.poll(20, TimeUnit.SECONDS);
      assertTrue(event != null, "a frame is told");
      if (event instanceof Event.FrameWatched watched) {
        return watched;
      }
    }
  }

  private static List<String> kinds(Event.FrameWatched frame) {
    return frame.findings().stream().map(finding -> finding.kind().label()).toList();
  }

  @Test
  void tellsWhatDiffersFromTheReferenceFrame() throws Exception {
    Path frames = Files.createDirectory(directory.resolve("frames"));
    Gear gear = new Gear("", "", frames.toString(), false, Optional.empty());
    try (OpenedSession session =
        OpenedSession.fresh(
            new Sessions(directory.resolve("sessions")),
            "studio",
            Optional.empty(),
            name ->
                new TetherSetup(
                    name, "test", gear, Levels.USUAL, true, 0, Optional.empty(), Patience.USUAL))) {
      List<State> end = new ArrayList<>();
      Thread runner =
          new Thread(
              () -> {
                try {
                  end.add(
                      session.run(
                          true, List.of(records -> records.forEach(it -> told.add(it.event())))));
                } catch (IOException | InterruptedException failed) {
                  throw new IllegalStateException(failed);
                }
              });
      runner.start();
      shoot("F_01.JPG", 0, 0);
      assertEquals(List.of(), kinds(next()));
      session.ask(
          new Input.ReferenceAsked("F_01.JPG", Optional.of(new Patch(0.43, 0.39, 0.1, 0.12))));
      shoot("F_02.JPG", 0.02, 0);
      Event.FrameWatched even = next();
      assertEquals(List.of(), kinds(even));
      assertEquals(0.02, even.deviation().orElseThrow().exposure().value(), 0.02);
      assertTrue(even.deviation().orElseThrow().patch().isPresent());
      shoot("F_03.JPG", -0.3, 0);
      assertEquals(List.of("exposure"), kinds(next()));
      shoot("F_04.JPG", -1.6, 0);
      assertEquals(List.of("misfire"), kinds(next()));
      shoot("F_05.JPG", 0, 0.4);
      assertEquals(List.of("band"), kinds(next()));
      session.ask(new Input.StopAsked());
      runner.join();
      Event.TetherReport report = (Event.TetherReport) end.get(0).report().orElseThrow();
      assertEquals(5, report.frames().size());
      assertEquals(List.of("band"), report.frames().get(4).findings());
    }
  }
}

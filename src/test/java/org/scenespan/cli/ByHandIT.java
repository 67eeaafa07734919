package org.scenespan.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.PipedInputStream;
import java.io.PipedOutputStream;
import java.io.PipedReader;
import java.io.PipedWriter;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.FutureTask;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.scenespan.control.Emulator;
import org.scenespan.light.Ev;
import org.scenespan.light.Shutter;
import picocli.CommandLine;

/** A photographer who does as she is told, but for one wrong turn; real folder, real frames. */
@Timeout(90)
class ByHandIT {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final int BUFFER = 1 << 20;

  @TempDir private Path directory;

  private final PipedOutputStream dials = new PipedOutputStream();
  private final StringWriter err = new StringWriter();
  private FutureTask<Integer> program;

  /** The program before a camera whose dials the test turns. */
  private BufferedReader start(String scene, String... words) throws IOException {
    Path frames = Files.createDirectory(directory.resolve("frames"));
    PipedInputStream turned = new PipedInputStream(dials, BUFFER);
    Thread camera = new Thread(() -> serve(scene, turned, frames));
    camera.setDaemon(true);
    camera.start();
    PipedWriter told = new PipedWriter();
    BufferedReader records = new BufferedReader(new PipedReader(told, BUFFER));
    List<String> line = new ArrayList<>(List.of(words));
    line.addAll(
        List.of(
            "--by-hand",
            "--json",
            "--folder=" + frames,
            "--sessions=" + directory.resolve("sessions")));
    program =
        new FutureTask<>(
            () -> {
              CommandLine command = Main.commandLine();
              command.setOut(new PrintWriter(told, true));
              command.setErr(new PrintWriter(err, true));
              int code = command.execute(line.toArray(String[]::new));
              told.close();
              return code;
            });
    new Thread(program).start();
    return records;
  }

  @Test
  void leadsAHandToACover() throws Exception {
    BufferedReader records = start("window", "bracket", "--start=1/60");
    Shutter stands = Shutter.parse("1/60");
    boolean wrong = false;
    boolean noticed = false;
    JsonNode report = null;
    for (String record = records.readLine(); record != null; record = records.readLine()) {
      JsonNode node = JSON.readTree(record);
      if (node.get("type").asText().equals("report")) {
        report = node;
      }
      if (!node.get("type").asText().equals("dial-asked")) {
        continue;
      }
      noticed |= node.get("words").asText().startsWith("That was ");
      for (JsonNode turn : node.get("turns")) {
        int clicks = turn.get("clicks").asInt();
        boolean longer = turn.get("way").asText().equals("longer");
        boolean slip = !wrong;
        wrong = true;
        stands = turned(stands, longer != slip ? Math.min(clicks, slip ? 6 : 99) : -clicks);
      }
      press(dials, node.get("shot").asInt(), stands);
    }
    assertEquals(ExitCode.DONE, program.get(), err::toString);
    assertTrue(noticed, "the wrong turn was told");
    assertEquals("covered", report.get("stopped").asText());
    assertTrue(report.get("frames").size() >= 3, report::toString);
  }

  /** After the second frame somebody turns the shutter by four clicks: it is asked back. */
  @Test
  void keepsALapseAsTheFirstFrameHasIt() throws Exception {
    List<String> told = told("frame-matched", "lapse --frames 7 --aperture f/8".split(" "));
    assertEquals(ExitCode.DONE, program.get(), err::toString);
    assertTrue(
        told.get(0).startsWith("Set the camera's own timer to a frame every 10"), told.get(0));
    assertTrue(told.contains("Shutter: 4 clicks longer, to 1/60 s."), told::toString);
    assertTrue(told.contains("Right: 1/60 s, f/8, ISO 100. Leave the dials."), told::toString);
  }

  /** The same in a studio: the way back to the reference frame's settings is told. */
  @Test
  void namesTheWayBackInATether() throws Exception {
    List<String> told = told("frame-watched", "tether --first-is-reference --frames 7".split(" "));
    assertEquals(ExitCode.DONE, program.get(), err::toString);
    assertEquals(
        List.of(
            "Set otherwise than for the reference frame. Shutter: 4 clicks longer, to 1/60 s.",
            "Right: 1/60 s, f/8, ISO 100. Leave the dials."),
        told);
  }

  /** Frame after frame; of the third on the shutter is off until the program asks it back. */
  private List<String> told(String framed, String... words) throws Exception {
    BufferedReader records = start("flat", words);
    List<String> told = new ArrayList<>();
    int shot = 0;
    for (String record = records.readLine(); record != null; record = records.readLine()) {
      JsonNode node = JSON.readTree(record);
      String type = node.get("type").asText();
      if (type.equals("dial-asked")) {
        told.add(node.get("words").asText());
      } else if (type.equals("session-opened") || type.equals(framed)) {
        shot++;
        boolean asked = told.stream().anyMatch(it -> it.contains("4 clicks longer"));
        press(dials, shot, turned(Shutter.parse("1/60"), shot >= 3 && !asked ? -4 : 0));
      }
    }
    return told;
  }

  private static Shutter turned(Shutter from, int clicks) {
    return Shutter.ofThird(from.third().orElseThrow() + clicks);
  }

  private static void press(PipedOutputStream dials, int shot, Shutter shutter) throws IOException {
    String line = "EXP:TIME " + shutter.seconds() + ";ISO 100;APER 8\nTRIG:REL " + shot + "\n";
    dials.write(line.getBytes(StandardCharsets.US_ASCII));
    dials.flush();
  }

  private static void serve(String scene, PipedInputStream turned, Path frames) {
    try {
      new Emulator(scene, new Ev(12), 1, false, frames)
          .serve(turned, PipedOutputStream.nullOutputStream(), Optional.empty());
    } catch (InterruptedException ended) {
      // The test is over.
    }
  }
}

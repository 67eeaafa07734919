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

  @Test
  void leadsAHandToACover() throws Exception {
    Path frames = Files.createDirectory(directory.resolve("frames"));
    PipedOutputStream dials = new PipedOutputStream();
    PipedInputStream turned = new PipedInputStream(dials, BUFFER);
    Thread camera = new Thread(() -> serve(turned, frames));
    camera.setDaemon(true);
    camera.start();

    PipedWriter told = new PipedWriter();
    BufferedReader records = new BufferedReader(new PipedReader(told, BUFFER));
    StringWriter err = new StringWriter();
    FutureTask<Integer> program =
        new FutureTask<>(
            () -> {
              CommandLine line = Main.commandLine();
              line.setOut(new PrintWriter(told, true));
              line.setErr(new PrintWriter(err, true));
              int code =
                  line.execute(
                      "bracket",
                      "--by-hand",
                      "--folder",
                      frames.toString(),
                      "--start",
                      "1/60",
                      "--json",
                      "--sessions",
                      directory.resolve("sessions").toString());
              told.close();
              return code;
            });
    new Thread(program).start();

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

  private static Shutter turned(Shutter from, int clicks) {
    return Shutter.ofThird(from.third().orElseThrow() + clicks);
  }

  private static void press(PipedOutputStream dials, int shot, Shutter shutter) throws IOException {
    String line = "EXP:TIME " + shutter.seconds() + ";ISO 100;APER 8\nTRIG:REL " + shot + "\n";
    dials.write(line.getBytes(StandardCharsets.US_ASCII));
    dials.flush();
  }

  private static void serve(PipedInputStream turned, Path frames) {
    try {
      new Emulator("window", new Ev(12), 1, false, frames)
          .serve(turned, PipedOutputStream.nullOutputStream(), Optional.empty());
    } catch (InterruptedException ended) {
      // The test is over.
    }
  }
}

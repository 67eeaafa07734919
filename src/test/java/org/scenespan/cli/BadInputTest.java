package org.scenespan.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Wrong input gets one line that says what is wrong, exit code 2, and leaves nothing behind. */
class BadInputTest {
  @TempDir private Path directory;

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "bracket | --port and --folder",
        "bracket --simulate ridge --port /dev/x | contradict",
        "bracket --port /dev/none-such --folder DIR | /dev/none-such",
        "bracket --port DIR --folder DIR | DIR",
        "bracket --port /dev/null --folder DIR/none | does not exist",
        "bracket --simulate no-such-scene | no-such-scene",
        "bracket --simulate / | scene",
        "tether | give --folder",
        "tether --folder DIR/none | does not exist",
        "tether --folder DIR --trigger release-only | --trigger: give its --port",
        "tether --folder DIR --guests | give --dashboard as well",
        "tether --folder DIR --port /dev/none-such | give --dashboard beside --port",
        "tether --folder DIR --dashboard --port /dev/x --trigger timed-contact | a tether sets none",
        "bracket --simulate DIR/text.hdr | text.hdr",
        "bracket --simulate DIR/none.hdr | none.hdr",
        "bracket --simulate ridge --trigger no-such | no-such",
        "bracket --simulate ridge --trigger DIR/wrong.json | line.baud",
        "bracket --simulate ridge --longest 1/1000 --shortest 1/8 | shortest shutter",
        "bracket --simulate ridge --longest 1/60000 | shutter",
        "bracket --simulate ridge --highest-iso 50 | highest ISO",
        "bracket --simulate ridge --aperture f/64 | f/64",
        "bracket --simulate ridge --start 1/8000 --longest 30s --shortest 1/60 | start exposure",
        "bracket --simulate ridge --start fast | \"fast\" is not a shutter",
        "bracket --simulate ridge --snr NaN | signal-to-noise (NaN)",
        "bracket --simulate ridge --snr 0 | signal-to-noise (0.0)",
        "bracket --simulate ridge --clip-tolerance 2 | share (2.0)",
        "bracket --simulate ridge --clip-tolerance 60% --shadow-tolerance 0.5 | together",
        "bracket --simulate ridge --max-frames 0 | most frames (0)",
        "bracket --simulate ridge --overlap 9 | overlap (9.0",
        "bracket --simulate ridge --overlap 4 --snr 150 | overlap (4.00",
        "bracket --simulate ridge --scene-ev bright | \"bright\" is not an EV",
        "bracket --simulate ridge --frame-timeout soon | \"soon\" is not a duration",
        "bracket --simulate ridge --retakes -1 | retakes (-1)",
        "bracket --simulate ridge --dashboard 99999 | 99999",
        "bracket --simulate ridge --lan | --dashboard",
        "bracket --simulate ridge --dashboard --lan tablet.example | tablet.example",
        "bracket --simulate ridge --dashboard --lan 1.2.3.4.5 | 1.2.3.4.5",
        "bracket --no-such-option | no-such-option",
        "bracket --by-hand --port x --folder DIR | leave --port and --simulate out",
        "bracket --by-hand | give --folder",
        "bracket --by-hand --folder DIR --mode fast | is not a mode",
        "bracket --by-hand --folder DIR --clicks 4 | clicks a stop (4)",
        "sessions resume | --latest, not both or neither",
        "sessions resume some --latest | --latest, not both or neither",
        "config no-such | there is no command \"no-such\"",
        "sessions show none-such | none-such",
        "sessions resume none-such | none-such",
        "sessions show ../../etc | is not the name",
        "bracket --trigger release-only --simulate flat --start 1/60 | leave --start out",
        "bracket --trigger release-only --simulate flat --iso 100 | which each frame says",
        "bracket --trigger release-only --simulate flat --frames-per-release 0 | must be 1 to 99",
        "bracket --trigger release-only --simulate flat --frames-per-release 13 | at most --max-frames (12)",
        "bracket --simulate flat --frames-per-release 3 | is for a trigger that only releases",
        "bracket --iso 200 --simulate flat | --iso is for a trigger that cannot set it",
        "devices check --fire --frames 0 --port x | no such port",
        "devices learn --frames 1 --name Xx --port x | must be small letters",
        "devices learn --trigger modem-lines --port tcp://127.0.0.1:9 | has no modem lines",
        "devices check --port tcp://127.0.0.1 | must be tcp://HOST:PORT",
        "devices check --port rfc2217://x:0 | must be rfc2217://HOST:PORT",
        "devices check --port /dev/none-such | /dev/none-such",
        "devices emulate --folder DIR/none | does not exist",
        "bracket --simulate ridge --plan DIR/none.json | none.json",
        "bracket --simulate ridge --plan DIR/text.hdr | is not JSON",
        "bracket --simulate ridge --plan DIR/wrong.json | is not what scenespan plan",
        "plan sun --at 91,0 --date 2026-06-01 --zone UTC | latitude (91.0)",
        "plan sun --at here --date 2026-06-01 --zone UTC | \"here\" is not a position",
        "plan sun --at 46,8 --date 1.6.2026 --zone UTC | \"1.6.2026\" is not a date",
        "plan sun --at 46,8 --date 2026-06-01 --zone Nowhere | \"Nowhere\" is not a time zone",
        "plan sun --date 2026-06-01 --zone UTC | --at",
        "plan lapse --at 80,0 --date 2026-06-21 --zone UTC | no nautical dawn",
        "plan lapse --at 46,8 --date 2026-06-01 --zone UTC --interval 1s | leaves no time",
        "plan lapse --at 46,8 --date 2026-06-01 --zone UTC --aperture f/64 | f/64",
        "plan lapse --at 46,8 --date 2026-06-01 --zone UTC --frame-megabytes 0 | frame size (0.0",
        "plan depth --aperture f/8 | --focal",
        "plan depth --focal 50mm | --aperture",
        "plan depth --focal 50mm --near 3m --far 2m | beyond the near end",
        "plan depth --focal 400mm --near 1m --far infinity | it would take f/",
        "plan depth --focal 50mm --aperture f/8 --distance 4cm | beyond the focal length",
        "plan motion --focal 24mm --speed 5km/h | both --speed and --subject",
        "plan motion --focal 24mm --speed fast --subject 3m | \"fast\" is not a speed",
        "plan stars --focal 14mm --aperture f/2.8 --declination 90 | declination (90.0)",
        "plan filter --shutter 1/125 | --nd or --wished",
        "plan filter --shutter 1/125 --nd 3.0 | \"3.0\" is not a filter",
        "plan filter --shutter 1/125 --wished 1/500 | shorter than",
        "plan exposure | say how bright",
        "plan exposure --ev 12 --light sun | not with several",
        "plan exposure --ev NaN | \"NaN\" is not an EV",
        "plan exposure --light candle | must be one of",
        "plan exposure --frame DIR/text.hdr | text.hdr",
        "plan exposure --ev 12 --near 1m | --focal",
        "plan exposure --ev 12 --isos 100 | --isos",
        "plan exposure --at 46,8 | --date, --time and --zone",
        "plan exposure --ev 12 --save DIR/text.hdr | is not replaced",
        "inspect --json --csv a.jpg | contradict",
        "inspect DIR/empty | has no frames; --recursive",
        "inspect -r DIR/empty | has no frames",
        "inspect --set-pause 2h a.jpg | pause within a set (7200 s)",
        "inspect --camera DIR/none.json a.jpg | there is no camera profile",
        "no-such-command | no-such-command",
      })
  void getsOneClearLine(String words, String told) throws IOException {
    Files.writeString(directory.resolve("text.hdr"), "this is no picture\n");
    Files.writeString(directory.resolve("wrong.json"), withWrongBaud());
    Files.createDirectories(directory.resolve("empty"));
    Path sessions = directory.resolve("sessions");
    String line = words.replace("DIR", directory.toString());
    boolean session = line.startsWith("bracket") || line.startsWith("sessions ");
    Ran ran = session ? Ran.line(line, "--sessions", sessions.toString()) : Ran.line(line);
    assertEquals(2, ran.code(), ran.toString());
    assertEquals(1, ran.err().lines().count(), ran.err());
    assertTrue(ran.err().startsWith("scenespan: "), ran.err());
    assertTrue(ran.err().contains(told.replace("DIR", directory.toString())), ran.err());
    assertEquals("", ran.out());
    assertFalse(hasEntries(sessions), "a session was left behind");
  }

  private static String withWrongBaud() throws IOException {
    String right = Files.readString(Path.of("device-profiles/reference-trigger.json"));
    String wrong = right.replaceFirst("\"baud\": *\\d+", "\"baud\": \"fast\"");
    assertFalse(right.equals(wrong));
    return wrong.replace("\"reference-trigger\"", "\"wrong\"");
  }

  private static boolean hasEntries(Path sessions) throws IOException {
    if (!Files.exists(sessions)) {
      return false;
    }
    try (Stream<Path> entries = Files.list(sessions)) {
      return entries.findAny().isPresent();
    }
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "demo",
        "bracket",
        "inspect",
        "sessions",
        "sessions list",
        "sessions show",
        "sessions resume",
        "config",
        "plan",
        "plan exposure",
        "plan depth",
        "plan motion",
        "plan stars",
        "plan filter",
        "plan sun",
        "plan lapse",
        "devices",
        "devices list",
        "devices check",
        "devices learn",
        "devices emulate"
      })
  void everyCommandHasHelpWithAnExample(String command) {
    Ran ran = Ran.line(command + " --help");
    assertEquals(0, ran.code());
    assertTrue(ran.out().contains("Example"), ran.out());
    assertTrue(ran.out().contains("scenespan " + command), ran.out());
  }

  @Test
  void anUnreadableFileIsNamedAndTheOthersGoOn() throws IOException {
    Path text = Files.writeString(directory.resolve("a.jpg"), "no picture");
    Ran ran = Ran.of("inspect", "--json", text.toString(), directory.resolve("b.jpg").toString());
    assertEquals(2, ran.code());
    assertEquals(2, ran.out().lines().count(), ran.out());
    assertTrue(ran.out().lines().allMatch(line -> line.contains("\"error\":")), ran.out());
  }
}

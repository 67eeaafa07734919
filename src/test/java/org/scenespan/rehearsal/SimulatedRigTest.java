package org.scenespan.rehearsal;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.google.common.jimfs.Configuration;
import com.google.common.jimfs.Jimfs;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.stream.Stream;
import org.junit.jupiter.api.RepeatedTest;
import org.junit.jupiter.api.RepetitionInfo;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.scenespan.frame.Radiance;
import org.scenespan.light.Ev;
import org.scenespan.light.Shutter;
import org.scenespan.light.Stops;
import org.scenespan.rehearsal.RigSettings.Placing;

class SimulatedRigTest {
  private static final Instant START = Instant.parse("2026-05-04T03:12:31.250Z");
  private static final Scene SCENE = small();

  private final Path folder = emptyFolder();
  private Instant now = START;

  private static Scene small() {
    float[][] rows = new float[8][24];
    for (float[] row : rows) {
      Arrays.fill(row, 1);
    }
    return Scene.of("small", new Radiance(8, rows), new Ev(12.034));
  }

  private static Path emptyFolder() {
    try {
      return Files.createDirectory(Jimfs.newFileSystem(Configuration.unix()).getPath("/card"));
    } catch (IOException e) {
      throw new AssertionError(e);
    }
  }

  private SimulatedRig rig(RigSettings settings, Faults faults) {
    return new SimulatedRig(settings, SCENE, folder, faults);
  }

  private SimulatedRig rig() {
    return rig(RigSettings.TYPICAL, Faults.NONE);
  }

  private static byte[] bytes(String text) {
    return text.getBytes(StandardCharsets.ISO_8859_1);
  }

  /** Sends, lets a time pass, answers what was said. */
  private String say(SimulatedRig rig, String text, Duration wait) {
    rig.receive(bytes(text), now);
    return pass(rig, wait);
  }

  private String pass(SimulatedRig rig, Duration wait) {
    now = now.plus(wait);
    rig.runDue(now);
    return new String(rig.takeOutput(), StandardCharsets.ISO_8859_1);
  }

  private String ask(SimulatedRig rig, String text) {
    return say(rig, text + "\n", Duration.ofMillis(10)).strip();
  }

  private List<String> files() throws IOException {
    try (Stream<Path> all = Files.list(folder)) {
      return all.map(p -> p.getFileName().toString()).sorted().toList();
    }
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "*IDN?                        | SCENESPAN,REFERENCE TRIGGER,0,1.0",
        "*idn?                        | SCENESPAN,REFERENCE TRIGGER,0,1.0",
        "*OPC?                        | 1",
        "SYST:ERR?                    | 0,\"No error\"",
        "system:error?                | 0,\"No error\"",
        ":SYSTem:ERRor?               | 0,\"No error\"",
        "EXP:TIME?                    | 0.0078125",
        "EXPOSURE:ISO?                | 100",
        "EXP:APER?                    | 8",
        "EXP:APERture?                | 8",
        "METer:EV?                    | 12.03",
        "TRIG:DONE?                   | 0",
        "EXP:TIME 0.5;ISO 200;APER 5.6;TIME?;ISO?;APER? | 0.5;200;5.6",
        "EXP:TIME 1.220703125E-4;TIME? | 0.000122070313",
        "EXP:TIME 0.5;*OPC?;TIME?     | 1;0.5",
        "EXP:TIME 0.5;:METER:EV?      | 12.03",
        "EXP:TIME 0.5;*RST;TIME?      | 0.0078125",
        "EXP:TIME 0.5;:*RST;TIME?     | 0.0078125",
        "EXP:ISO 125;ISO?             | 125",
        "  \t*OPC? \t\r               | 1",
        "*OPC?;;*OPC?                 | 1;1",
      })
  void answersWhatTheProtocolSays(String sent, String expected) {
    assertEquals(expected, ask(rig(), sent));
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "NONSENSE            | -113,\"Undefined header\"",
        "EXPO:TIME?          | -113,\"Undefined header\"",
        "*IDN                | -113,\"Undefined header\"",
        "EXP:TIME            | -109,\"Missing parameter\"",
        "EXP:ISO 100;SYST:ERR? | -113,\"Undefined header\"",
        "::EXP:TIME 1        | -113,\"Undefined header\"",
        "EXP:TIME 33         | -222,\"Data out of range\"",
        "EXP:TIME 0.0001     | -222,\"Data out of range\"",
        "EXP:TIME -1         | -222,\"Data out of range\"",
        "EXP:TIME 1e999      | -222,\"Data out of range\"",
        "EXP:TIME NaN        | -224,\"Illegal parameter value\"",
        "EXP:TIME 1 2        | -224,\"Illegal parameter value\"",
        "EXP:ISO 99          | -222,\"Data out of range\"",
        "EXP:ISO 30000       | -222,\"Data out of range\"",
        "EXP:APER 1.2        | -222,\"Data out of range\"",
        "EXP:APER 25         | -222,\"Data out of range\"",
        "TRIG:REL 0          | -222,\"Data out of range\"",
        "TRIG:REL 1e12       | -222,\"Data out of range\"",
        "TRIG:REL 1.5        | -224,\"Illegal parameter value\"",
        "TRIG:REL            | -109,\"Missing parameter\"",
        "*RST 1              | -224,\"Illegal parameter value\"",
        "caf\u00e9           | -113,\"Undefined header\"",
      })
  void badCommandQueuesOneErrorAndChangesNothing(String sent, String error) {
    SimulatedRig rig = rig();
    assertEquals("", ask(rig, sent));
    assertEquals(error, ask(rig, "SYST:ERR?"));
    assertEquals("0,\"No error\"", ask(rig, "SYST:ERR?"));
    assertEquals("0.0078125;100;8", ask(rig, "EXP:TIME?;ISO?;APER?"));
  }

  @Test
  void longLineIsThrownAwayWhole() {
    SimulatedRig rig = rig();
    assertEquals("", ask(rig, " ".repeat(257) + "*OPC?"));
    assertEquals("-363,\"Input buffer overrun\"", ask(rig, "SYST:ERR?"));
    assertEquals("1", ask(rig, " ".repeat(251) + "*OPC?"));
    assertEquals("0,\"No error\"", ask(rig, "SYST:ERR?"));
  }

  @Test
  void waitingCommandsAreBounded() {
    SimulatedRig rig = rig();
    ask(rig, "TRIG:REL 7");
    String said = say(rig, "*OPC?\n".repeat(1000), Duration.ofSeconds(1));
    assertEquals(256, said.lines().count());
    assertEquals("-363,\"Input buffer overrun\"", ask(rig, "SYST:ERR?"));
    assertEquals(1000, say(rig, "*OPC?\n".repeat(1000), Duration.ofSeconds(1)).lines().count());
  }

  @Test
  void fullErrorQueueTellsThatItOverflowed() {
    SimulatedRig rig = rig();
    say(rig, "X\n".repeat(30), Duration.ZERO);
    for (int i = 0; i < 19; i++) {
      assertEquals("-113,\"Undefined header\"", ask(rig, "SYST:ERR?"));
    }
    assertEquals("-350,\"Queue overflow\"", ask(rig, "SYST:ERR?"));
    assertEquals("0,\"No error\"", ask(rig, "SYST:ERR?"));
    say(rig, "X\n".repeat(30) + "*CLS\n", Duration.ZERO);
    assertEquals("0,\"No error\"", ask(rig, "SYST:ERR?"));
  }

  /** 60 ms of lag and half a second of exposure; only then the answer, 2 ms later. */
  @Test
  void doneIsAnsweredWhenTheShutterHasClosed() {
    SimulatedRig rig = rig();
    assertEquals("", ask(rig, "EXP:TIME 0.5;:TRIG:REL 7;:TRIG:DONE?;*OPC?"));
    assertEquals("", pass(rig, Duration.ofMillis(551)));
    assertEquals("7;1\n", pass(rig, Duration.ofMillis(1)));
    assertEquals("7", ask(rig, "TRIG:DONE?"));
  }

  @Test
  void whatIsSentBehindAWaitWaits() {
    SimulatedRig rig = rig();
    ask(rig, "TRIG:REL 7");
    String lines = "EXP:ISO?;:TRIG:DONE?\nSYST:ERR?\n";
    assertEquals("", say(rig, lines, Duration.ofMillis(20)));
    assertEquals("100;7\n0,\"No error\"\n", pass(rig, Duration.ofSeconds(1)));
  }

  @Test
  void releaseDuringAnExposureIsIgnored() {
    SimulatedRig rig = rig();
    ask(rig, "TRIG:REL 7;REL 8");
    assertEquals("-213,\"Init ignored\"", ask(rig, "SYST:ERR?"));
    assertEquals("7\n", say(rig, "TRIG:DONE?\n", Duration.ofSeconds(1)));
  }

  @Test
  void settingsDuringAnExposureCountFromTheNext() throws IOException {
    SimulatedRig rig = rig();
    say(rig, "TRIG:REL 1\nEXP:TIME 2\n", Duration.ofSeconds(1));
    say(rig, "TRIG:REL 2\n", Duration.ofSeconds(1));
    assertEquals(List.of("SCN_0001.JPG"), files());
    pass(rig, Duration.ofSeconds(2));
    assertEquals(List.of("SCN_0001.JPG", "SCN_0002.JPG"), files());
  }

  /** Cutting the bytes anyhow changes nothing of what is said. */
  @RepeatedTest(50)
  void cutsDoNotMatter(RepetitionInfo repetition) {
    String text =
        "*IDN?\nexp:time 0.25;time?\r\n\n;\n*OPC?;SYST:ERR?\nbad\nSYST:ERR?\nTRIG:REL 3;DONE?\n"
            + "x".repeat(300)
            + "\nSYST:ERR?\nMET:EV?\n";
    String whole = say(rig(), text, Duration.ofSeconds(2));
    assertEquals(7, whole.lines().count(), whole);
    assertTrue(whole.contains("1;0,\"No error\"\n"), whole);
    SplittableRandom random = new SplittableRandom(repetition.getCurrentRepetition());
    SimulatedRig rig = new SimulatedRig(RigSettings.TYPICAL, SCENE, emptyFolder(), Faults.NONE);
    byte[] bytes = bytes(text);
    int from = 0;
    while (from < bytes.length) {
      int to = Math.min(bytes.length, from + random.nextInt(12));
      rig.receive(Arrays.copyOfRange(bytes, from, to), now);
      from = to;
    }
    assertEquals(whole, pass(rig, Duration.ofSeconds(2)));
  }

  @ParameterizedTest
  @CsvSource({"GROWING, SCN_0001.JPG", "RENAMED, SCN_0001.JPG.part"})
  void fileComesInTwoPieces(Placing placing, String first) throws IOException {
    SimulatedRig rig = rig(RigSettings.TYPICAL.withPlacing(placing), Faults.NONE);
    say(rig, "EXP:TIME 1;:TRIG:REL 1\n", Duration.ofMillis(1060 + 174));
    assertEquals(List.of(), files());
    pass(rig, Duration.ofMillis(2));
    assertEquals(List.of(first), files());
    long half = Files.size(folder.resolve(first));
    pass(rig, Duration.ofMillis(174));
    assertEquals(List.of("SCN_0001.JPG"), files());
    byte[] whole = Files.readAllBytes(folder.resolve("SCN_0001.JPG"));
    assertEquals(half, whole.length / 2);
    assertEquals((byte) 0xd9, whole[whole.length - 1]);
    assertEquals(Optional.empty(), rig.nextDue());
  }

  @Test
  void rawComesBesideItsJpegALittleLater() throws IOException {
    SimulatedRig rig = rig(RigSettings.TYPICAL.withRaw(true), Faults.NONE);
    say(rig, "EXP:TIME 1;:TRIG:REL 1\n", Duration.ofMillis(1060 + 351));
    assertEquals(List.of("SCN_0001.DNG", "SCN_0001.JPG"), files());
    long half = Files.size(folder.resolve("SCN_0001.DNG"));
    pass(rig, Duration.ofMillis(150));
    assertTrue(Files.size(folder.resolve("SCN_0001.DNG")) >= 2 * half);
  }

  @Test
  void numbersWrapAndSkipWhatIsThere() throws IOException {
    byte[] own = bytes("the photographer's");
    Files.write(folder.resolve("SCN_9999.DNG"), own);
    Files.write(folder.resolve("SCN_0001.JPG"), own);
    SimulatedRig rig = rig(RigSettings.TYPICAL.withFirstNumber(9998), Faults.NONE);
    for (int shot = 1; shot <= 2; shot++) {
      say(rig, "TRIG:REL " + shot + "\n", Duration.ofSeconds(1));
    }
    assertEquals(List.of("SCN_0001.JPG", "SCN_0002.JPG", "SCN_9998.JPG", "SCN_9999.DNG"), files());
    assertArrayEquals(own, Files.readAllBytes(folder.resolve("SCN_0001.JPG")));
    assertArrayEquals(own, Files.readAllBytes(folder.resolve("SCN_9999.DNG")));
  }

  @Test
  void cameraWithoutItsFolderSaysSoAndGoesOn() throws IOException {
    SimulatedRig rig = rig();
    Files.delete(folder);
    say(rig, "TRIG:REL 1\n", Duration.ofSeconds(1));
    assertEquals("-250,\"Mass storage error\"", ask(rig, "SYST:ERR?"));
    Files.createDirectory(folder);
    say(rig, "TRIG:REL 2\n", Duration.ofSeconds(1));
    assertEquals(List.of("SCN_0002.JPG"), files());
  }

  @Test
  void sameSeedWritesTheSameFiles() throws IOException {
    byte[] one = shotOf(RigSettings.TYPICAL);
    assertArrayEquals(one, shotOf(RigSettings.TYPICAL));
    assertFalse(Arrays.equals(one, shotOf(RigSettings.TYPICAL.withSeed(2))));
  }

  /**
   * A shutter that is open twice as long shows what a scene of twice the light would, and no word.
   */
  @Test
  void shutterCanBeOff() throws IOException {
    Faults late =
        new Faults() {
          @Override
          public Stops shutterError(Shutter set) {
            return new Stops(1);
          }
        };
    Scene brighter = SCENE.at(new Ev(13.034));
    byte[] off = shotOf(RigSettings.TYPICAL, SCENE, late);
    assertArrayEquals(shotOf(RigSettings.TYPICAL, brighter, Faults.NONE), off);
    assertFalse(Arrays.equals(shotOf(RigSettings.TYPICAL), off));
  }

  private byte[] shotOf(RigSettings settings) throws IOException {
    return shotOf(settings, SCENE, Faults.NONE);
  }

  private static byte[] shotOf(RigSettings settings, Scene scene, Faults faults)
      throws IOException {
    Path card = emptyFolder();
    SimulatedRig rig = new SimulatedRig(settings, scene, card, faults);
    rig.receive(bytes("TRIG:REL 1\n"), START);
    rig.runDue(START.plusSeconds(2));
    return Files.readAllBytes(card.resolve("SCN_0001.JPG"));
  }

  /** The camera's own clock, ahead or behind, at the opening of the shutter, lag included. */
  @ParameterizedTest
  @CsvSource({
    "PT0S, Z, 2026:05:04 03:12:31, 310, +00:00",
    "PT0S, +02:00, 2026:05:04 05:12:31, 310, +02:00",
    "PT-1M-0.5S, -03:30, 2026:05:03 23:41:30, 810, -03:30"
  })
  void cameraClockIsItsOwn(
      Duration ahead, ZoneOffset zone, String time, String thousandths, String offset)
      throws IOException {
    byte[] jpeg = shotOf(RigSettings.TYPICAL.withCameraClock(ahead, zone));
    String text = new String(jpeg, StandardCharsets.ISO_8859_1);
    assertTrue(text.contains(time + "\0"), "time");
    assertTrue(text.contains(offset + "\0"), "offset");
    assertTrue(text.contains(thousandths + "\0"), "thousandths");
  }

  private static Faults onReply(Faults.ReplyFate fate) {
    return new Faults() {
      private boolean done;

      @Override
      public ReplyFate onReply(String reply, Instant now) {
        ReplyFate next = done ? new ReplyFate.Deliver() : fate;
        done = true;
        return next;
      }
    };
  }

  @Test
  void repliesCanBeLostLateSaidTwiceAndCut() {
    String two = "*OPC?\nEXP:ISO?\n";
    SimulatedRig lost = rig(RigSettings.TYPICAL, onReply(new Faults.ReplyFate.Lose()));
    assertEquals("100\n", say(lost, two, Duration.ofSeconds(1)));
    SimulatedRig twice = rig(RigSettings.TYPICAL, onReply(new Faults.ReplyFate.Repeat()));
    assertEquals("1\n1\n100\n", say(twice, two, Duration.ofSeconds(1)));
    SimulatedRig cut = rig(RigSettings.TYPICAL, onReply(new Faults.ReplyFate.Cut()));
    assertEquals("1100\n", say(cut, two, Duration.ofSeconds(1)));
  }

  @Test
  void lateReplyHoldsTheNextBack() {
    Faults late = onReply(new Faults.ReplyFate.Delay(Duration.ofSeconds(3)));
    SimulatedRig rig = rig(RigSettings.TYPICAL, late);
    assertEquals("", say(rig, "*OPC?\nEXP:ISO?\n", Duration.ofMillis(3001)));
    assertEquals("1\n100\n", pass(rig, Duration.ofMillis(1)));
  }

  @Test
  void garbledReplyIsNonsenseOfTheSameLength() {
    SimulatedRig rig = rig(RigSettings.TYPICAL, onReply(new Faults.ReplyFate.Garble()));
    String said = say(rig, "*IDN?\n", Duration.ofSeconds(1));
    assertEquals(SimulatedRig.IDENTITY.length() + 1, said.length());
    assertEquals(said.length() - 1, said.indexOf('\n'));
    assertFalse(said.startsWith(SimulatedRig.IDENTITY));
  }

  @Test
  void framesCanBeLostAndOvertaken() throws IOException {
    Faults faults =
        new Faults() {
          @Override
          public FrameFate onFrame(int shot, Instant at) {
            return shot == 1
                ? new FrameFate.Lose()
                : shot == 2 ? new FrameFate.Delay(Duration.ofSeconds(60)) : new FrameFate.Deliver();
          }
        };
    SimulatedRig rig = rig(RigSettings.TYPICAL, faults);
    for (int shot = 1; shot <= 3; shot++) {
      assertEquals(shot + "\n", say(rig, "TRIG:REL " + shot + ";DONE?\n", Duration.ofSeconds(1)));
    }
    assertEquals(List.of("SCN_0003.JPG"), files());
    pass(rig, Duration.ofSeconds(60));
    assertEquals(List.of("SCN_0002.JPG", "SCN_0003.JPG"), files());
  }

  /** However coarsely the caller steps, each thing happens as of its own time. */
  @Test
  void oneBigStepIsAsGoodAsManySmall() {
    String text = "EXP:TIME 0.25\nTRIG:REL 1;DONE?\nEXP:TIME?\nTRIG:REL 2;DONE?\n";
    SimulatedRig small = rig();
    small.receive(bytes(text), START);
    StringBuilder said = new StringBuilder();
    for (int i = 0; i < 2000; i++) {
      said.append(pass(small, Duration.ofMillis(1)));
    }
    SimulatedRig big = new SimulatedRig(RigSettings.TYPICAL, SCENE, emptyFolder(), Faults.NONE);
    big.receive(bytes(text), START);
    big.runDue(START.plusSeconds(2));
    assertEquals(said.toString(), new String(big.takeOutput(), StandardCharsets.US_ASCII));
    assertEquals("1\n0.25\n2\n", said.toString());
  }
}

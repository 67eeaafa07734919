package org.scenespan.trigger;

import static java.nio.charset.StandardCharsets.ISO_8859_1;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayDeque;
import java.util.Arrays;
import java.util.Deque;
import java.util.HexFormat;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.TreeMap;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.scenespan.light.Aperture;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;

class DialogueTranscriptTest {
  private static final int SEEDS = 100;

  /** Every shipped profile, so that one without a transcript fails. */
  static List<String> profiles() throws IOException {
    try (Stream<Path> files = Files.list(Path.of("device-profiles"))) {
      return files
          .map(file -> file.getFileName().toString())
          .filter(name -> name.endsWith(".json") && !name.equals("profile.schema.json"))
          .map(name -> name.substring(0, name.length() - ".json".length()))
          .sorted()
          .toList();
    }
  }

  @Test
  void thereAreProfilesAndTheyAreListed() throws IOException {
    assertTrue(profiles().contains("reference-trigger"));
    assertEquals(profiles(), new Profiles(Optional.empty()).names());
  }

  @ParameterizedTest
  @MethodSource("profiles")
  void theTranscriptOfEachProfileIsSpokenToTheLetter(String name) throws IOException {
    new Replay(name, Optional.empty()).run();
  }

  @ParameterizedTest
  @MethodSource("profiles")
  void theWiringOfEachKindIsShown(String name) throws IOException {
    String document = Files.readString(Path.of("docs", "wiring.md"));
    String kind = ProfileTexts.shipped(name).get("kind").textValue();
    String heading = "\n## `(.*`, `)?(" + name + "|" + kind + ")`.*\n";
    assertTrue(Pattern.compile(heading).matcher(document).find(), name);
  }

  @ParameterizedTest
  @MethodSource("profiles")
  void cuttingTheBytesMakesNoDifference(String name) throws IOException {
    for (int seed = 1; seed <= SEEDS; seed++) {
      new Replay(name, Optional.of(new Random(seed))).run();
    }
  }

  @Test
  void theShotInTheProtocolsDocumentIsTheOneInTheTranscript() throws IOException {
    String document = Files.readString(Path.of("docs", "line-protocol.md"));
    int from = document.indexOf("```\n", document.indexOf("## One shot")) + 4;
    String shot = document.substring(from, document.indexOf("```", from));
    String transcript =
        Files.readString(Path.of("src/test/resources/dialogues/reference-trigger.txt"));
    assertTrue(shot.lines().count() > 20 && transcript.contains(shot));
  }

  /** One run through a transcript. */
  private static final class Replay {
    private final List<String> script;
    private final Profile profile;
    private final Dialogue dialogue;
    private final Optional<Random> cuts;
    private final Deque<String> sent = new ArrayDeque<>();
    private final Deque<String> notices = new ArrayDeque<>();
    private final boolean hex;
    private Instant now = Instant.parse("2026-03-01T05:00:00Z");
    private int orders;

    Replay(String name, Optional<Random> cuts) throws IOException {
      this.cuts = cuts;
      profile = new Profiles(Optional.empty()).load(name);
      assertEquals(name, profile.name());
      hex = profile.line().form() == Profile.Form.HEX;
      dialogue = new Dialogue(profile);
      try (InputStream in =
          DialogueTranscriptTest.class.getResourceAsStream("/dialogues/" + name + ".txt")) {
        assertNotNull(in, "no transcript of profile " + name);
        script = new String(in.readAllBytes(), ISO_8859_1).lines().toList();
      }
    }

    void run() {
      for (int i = 0; i < script.size(); i++) {
        String line = script.get(i);
        if (!line.isBlank() && !line.startsWith("#")) {
          play(line, "line " + (i + 1) + ": " + line);
          collectOutput();
        }
      }
      assertTrue(orders > 0);
      assertTrue(sent.isEmpty(), "sent beyond the transcript: " + sent);
      assertTrue(notices.isEmpty(), "noticed beyond the transcript: " + notices);
    }

    private void play(String line, String where) {
      String[] words = line.split(" ", 2);
      if (!words[0].equals(">") && !words[0].equals("contact")) {
        assertTrue(sent.isEmpty(), where + ": sent before, and not in the transcript: " + sent);
      }
      switch (words[0]) {
        case "order" -> {
          orders++;
          dialogue.begin(orderOf(words[1]), now);
        }
        case ">" -> assertEquals(words[1], sent.poll(), where);
        case "contact" -> assertEquals(line, sent.poll(), where);
        case "notice" -> assertEquals(words[1], notices.poll(), where);
        case "<" -> {
          if (hex) {
            hear(Framing.bytesOf(words[1]));
          } else {
            hear((words[1] + profile.line().replyTerminator().characters()).getBytes(ISO_8859_1));
          }
        }
        case "wait" -> {
          now = now.plusMillis(Long.parseLong(words[1]));
          dialogue.tick(now);
        }
        case "outcome" ->
            assertEquals(
                words.length > 1 ? words[1] : "",
                dialogue.takeOutcome().map(Replay::text).orElse("none"),
                where);
        default -> throw new AssertionError(where);
      }
    }

    private void hear(byte[] bytes) {
      int from = 0;
      while (from < bytes.length) {
        int most = bytes.length - from;
        int count = cuts.isPresent() ? 1 + cuts.get().nextInt(most) : most;
        dialogue.receive(Arrays.copyOfRange(bytes, from, from + count), now);
        collectOutput();
        from += count;
      }
    }

    private void collectOutput() {
      for (Switching contact : dialogue.takeSwitchings()) {
        sent.add("contact " + contact.line() + (contact.closed() ? " closed" : " open"));
      }
      for (Replies.Heard notice : dialogue.takeNotices()) {
        notices.add(notice.kind() + " " + notice.text());
      }
      byte[] output = dialogue.takeOutput();
      String end = profile.line().sendTerminator().characters();
      String text = new String(output, ISO_8859_1);
      assertTrue(text.isEmpty() || text.endsWith(end), text);
      if (hex && output.length > 0) {
        sent.add(HexFormat.ofDelimiter(" ").withUpperCase().formatHex(output));
      } else if (!text.isEmpty()) {
        sent.addAll(Arrays.asList(text.split(end)));
      }
    }

    private static Order orderOf(String text) {
      if (text.equals("greet")) {
        return new Order.Greet();
      }
      if (text.equals("beat")) {
        return new Order.Beat();
      }
      if (text.equals("meter")) {
        return new Order.ReadMeter();
      }
      String[] parts = text.substring("fire ".length()).split(" \\| ");
      return new Order.Fire(
          Integer.parseInt(parts[0]),
          new Exposure(Shutter.parse(parts[1]), Aperture.parse(parts[2]), Iso.parse(parts[3])));
    }

    private static String text(Outcome outcome) {
      if (outcome instanceof Outcome.Acknowledged done) {
        return "acknowledged "
            + new TreeMap<>(done.groups())
                .entrySet().stream()
                    .map(group -> group.getKey() + "=" + group.getValue())
                    .collect(Collectors.joining(" "));
      }
      if (outcome instanceof Outcome.Refused refused) {
        return "refused " + refused.reason();
      }
      if (outcome instanceof Outcome.Garbled garbled) {
        return "garbled " + garbled.reason();
      }
      return outcome instanceof Outcome.Lost lost ? "lost " + lost.reason() : "unknown";
    }
  }
}

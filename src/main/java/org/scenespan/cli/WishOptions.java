package org.scenespan.cli;

import java.io.IOException;
import java.util.Locale;
import java.util.Optional;
import org.scenespan.journal.JournalReading;
import org.scenespan.journal.Sessions;
import org.scenespan.light.Ev;
import org.scenespan.light.Share;
import org.scenespan.light.Stops;
import org.scenespan.plan.Intent;
import org.scenespan.plan.Known;
import org.scenespan.plan.SpanEstimate;
import org.scenespan.session.State;
import picocli.CommandLine.Option;

/** What the photographer wants of a bracket, and what they know of the scene. */
final class WishOptions {
  @Option(
      names = "--keep",
      paramLabel = "END",
      defaultValue = "both",
      description =
          "Which end of the scene matters: highlights, shadows or both; beyond the middle of the"
              + " other end all may be let go (${DEFAULT-VALUE}).")
  private String keep;

  @Option(
      names = "--let-go-area",
      paramLabel = "SHARE",
      defaultValue = "0",
      converter = Values.ShareValue.class,
      description =
          "A connected clipped area up to this share of the picture may be let go: the sun's disc,"
              + " sparkle on water (${DEFAULT-VALUE}).")
  private Share letGoArea;

  @Option(
      names = "--steps",
      paramLabel = "STOPS",
      converter = Values.StopsValue.class,
      description = "Even steps between frames, instead of the largest that join.")
  private Stops steps;

  @Option(
      names = "--copies",
      paramLabel = "N",
      defaultValue = "1",
      description = "How often each frame of the set is taken, for less noise (${DEFAULT-VALUE}).")
  private int copies;

  @Option(
      names = "--order",
      paramLabel = "ORDER",
      defaultValue = "planned",
      description = "Which frame comes first: shortest, longest or planned (${DEFAULT-VALUE}).")
  private String order;

  @Option(
      names = "--extra-for-motion",
      description =
          "One more frame for what moves: of the exposure that holds best what was seen to move, else"
              + " of what the picture mostly is; quicker if ISO may rise.")
  private boolean extraForMotion;

  @Option(names = "--sun-in-frame", description = "The sun is in the frame: expect it far above.")
  private boolean sunInFrame;

  @Option(
      names = "--like",
      paramLabel = "SESSION",
      description = "Expect the span that an earlier session found here.")
  private String like;

  @Option(
      names = "--expect-span",
      paramLabel = "LOW..HIGH",
      description = "Expect the scene between two EVs, such as 4..15.5.")
  private String expected;

  Intent intent() {
    return new Intent(
        choice("--keep", Intent.Keep.class, keep),
        letGoArea,
        Optional.ofNullable(steps),
        copies,
        choice("--order", Intent.Order.class, order),
        extraForMotion);
  }

  private static <T extends Enum<T>> T choice(String option, Class<T> type, String word) {
    for (T constant : type.getEnumConstants()) {
      if (constant.name().toLowerCase(Locale.ROOT).equals(word)) {
        return constant;
      }
    }
    StringBuilder words = new StringBuilder();
    for (T constant : type.getEnumConstants()) {
      words.append(words.isEmpty() ? "" : ", ").append(constant.name().toLowerCase(Locale.ROOT));
    }
    throw new IllegalArgumentException(option + " \"" + word + "\" must be one of " + words);
  }

  Known known(Sessions sessions) throws IOException {
    if (like != null && expected != null) {
      throw new IllegalArgumentException("--like and --expect-span contradict each other");
    }
    Optional<Known.EarlierSpan> earlier = Optional.empty();
    if (like != null) {
      earlier = Optional.of(ofSession(sessions));
    } else if (expected != null) {
      earlier = Optional.of(ofWord());
    }
    return new Known(Optional.empty(), sunInFrame, earlier);
  }

  private Known.EarlierSpan ofSession(Sessions sessions) throws IOException {
    State state = JournalReading.stateOf(sessions.find(like));
    SpanEstimate span =
        state
            .span()
            .filter(it -> !it.lowIsGuess() && !it.highIsGuess())
            .orElseThrow(
                () ->
                    new IllegalArgumentException(
                        "session \"" + like + "\" does not know both ends of its scene's span"));
    return new Known.EarlierSpan(span.low(), span.high(), "session " + like);
  }

  private Known.EarlierSpan ofWord() {
    String[] ends = expected.split("\\.\\.", -1);
    if (ends.length != 2) {
      throw new IllegalArgumentException(
          "--expect-span \"" + expected + "\" is no span such as 4..15.5");
    }
    Values.EvValue value = new Values.EvValue();
    Ev low = value.convert(ends[0]);
    return new Known.EarlierSpan(low, value.convert(ends[1]), "your word");
  }
}

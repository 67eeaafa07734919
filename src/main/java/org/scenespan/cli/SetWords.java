package org.scenespan.cli;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import org.scenespan.plan.SetReview;
import org.scenespan.plan.ShotFrame;

/** What a set that is already shot has lost, and what it would have taken, in words. */
final class SetWords {
  private SetWords() {}

  static List<String> of(List<ShotFrame> frames, SetReview review) {
    List<String> lines = new ArrayList<>();
    lines.add(
        String.format(
            Locale.ROOT,
            "Set of %d, %s to %s%s: the scene spans %s%s to %s%s (%.1f stops).",
            frames.size(),
            frames.get(0).file(),
            name(frames.get(frames.size() - 1)),
            frames.get(0).camera().map(camera -> ", " + camera).orElse(""),
            review.span().low(),
            review.span().lowIsGuess() ? " or less" : "",
            review.span().highIsGuess() ? "about " : "",
            review.span().high(),
            review.span().high().minus(review.span().low()).value()));
    if (review.isCovered()) {
      lines.add("   Nothing is lost: every part of it lies in the reach of a frame.");
    }
    review.losses().forEach(loss -> lines.add("   " + lost(loss)));
    if (!review.missing().isEmpty()) {
      boolean guess = review.losses().stream().anyMatch(SetReview.Loss::guess);
      lines.add(
          "   It would have taken "
              + taken(review.missing())
              + (guess ? ", and maybe more: no frame tells how far it goes." : "."));
    }
    if (!review.needless().isEmpty()) {
      lines.add(
          "   Not needed: "
              + review.needless().stream()
                  .map(place -> name(frames.get(place)))
                  .collect(Collectors.joining(", "))
              + ".");
    }
    return lines;
  }

  private static String name(ShotFrame frame) {
    return Path.of(frame.file()).getFileName().toString();
  }

  private static String lost(SetReview.Loss loss) {
    String share = Telling.percent(loss.share()) + " of the picture";
    double stops = loss.stops().value();
    return switch (loss.where()) {
      case ABOVE ->
          String.format(
              Locale.ROOT,
              "Lost above %s: %s is clipped in every frame, over %s%.1f stops.",
              loss.low(),
              share,
              loss.guess() ? "about " : "",
              stops);
      case BETWEEN ->
          String.format(
              Locale.ROOT,
              "Lost from %s to %s: %s is clipped in one frame and too dark in the next.",
              loss.low(),
              loss.high(),
              share);
      case BELOW ->
          String.format(
              Locale.ROOT,
              "Lost below %s: %s is too dark in every frame, over %s%.1f stops.",
              loss.high(),
              share,
              loss.guess() ? "at least " : "",
              stops);
    };
  }

  private static String taken(List<SetReview.Missing> missing) {
    return missing.stream().map(SetWords::exposure).collect(Collectors.joining("; "));
  }

  private static String exposure(SetReview.Missing missing) {
    double beyond = missing.beyond().value();
    return missing.exposure()
        + (beyond == 0
            ? ""
            : beyond > 0
                ? String.format(Locale.ROOT, " behind a filter of %.1f stops", beyond)
                : String.format(Locale.ROOT, " with %.1f stops more by aperture or ISO", -beyond));
  }
}

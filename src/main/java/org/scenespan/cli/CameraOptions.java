package org.scenespan.cli;

import java.util.Optional;
import org.scenespan.plan.BracketGoal;
import org.scenespan.plan.Intent;
import org.scenespan.plan.hand.Hand;
import org.scenespan.session.Gear;
import org.scenespan.trigger.Profile;
import picocli.CommandLine.Option;

/** What the camera writes, and what it decides by itself. */
final class CameraOptions {
  @Option(
      names = "--raw",
      description =
          "Expect raw files (DNG) and measure those. Where the camera writes a JPEG beside each,"
              + " the JPEG answers first, so that the next release need not wait, and the raw file"
              + " replaces its numbers when it comes; the end waits for raw files on their way.")
  private boolean raw;

  @Option(
      names = "--raw-only",
      description =
          "Expect raw files and decide by nothing else: slower over a slow link, sometimes a frame"
              + " less, since a JPEG clips before its raw file does. A JPEG counts only where its"
              + " raw file does not come.")
  private boolean rawOnly;

  @Option(
      names = "--frames-per-release",
      paramLabel = "N",
      description =
          "How many frames one release brings from a camera that brackets by itself, behind a"
              + " trigger that only releases. Default: 1.")
  private Integer framesPerRelease;

  Gear gear(
      Profile profile,
      String trigger,
      String port,
      String folder,
      Optional<Gear.Rehearsal> played) {
    return new Gear(trigger, port, folder, raw || rawOnly, raw && !rawOnly, own(profile), played);
  }

  /** A camera without a trigger. */
  Gear gear(String folder, Hand hand) {
    if (framesPerRelease != null) {
      throw new IllegalArgumentException(
          "--frames-per-release is for a trigger that only releases; by hand each frame counts");
    }
    return Gear.byHand(folder, raw || rawOnly, raw && !rawOnly, hand);
  }

  private Optional<Gear.Own> own(Profile profile) {
    if (!profile.isReleaseOnly()) {
      if (framesPerRelease != null) {
        throw new IllegalArgumentException(
            "--frames-per-release is for a trigger that only releases; trigger \""
                + profile.name()
                + "\" sets each exposure");
      }
      return Optional.empty();
    }
    return Optional.of(new Gear.Own(framesPerRelease == null ? 1 : framesPerRelease));
  }

  /**
   * Looks whether all that is asked of a camera can be had of one that keeps its own exposure.
   *
   * @throws IllegalArgumentException if not
   */
  void checkOwn(Profile profile, boolean start, boolean iso, BracketGoal goal) {
    Intent intent = goal.intent();
    String kept = "trigger \"" + profile.name() + "\" only releases and the camera keeps its own ";
    if (start) {
      throw new IllegalArgumentException(kept + "exposure: leave --start out");
    }
    if (iso) {
      throw new IllegalArgumentException(kept + "ISO, which each frame says: leave --iso out");
    }
    if (framesPerRelease != null && framesPerRelease > goal.maxFrames()) {
      throw new IllegalArgumentException(
          "--frames-per-release ("
              + framesPerRelease
              + ") must be at most --max-frames ("
              + goal.maxFrames()
              + ")");
    }
    if (intent.steps().isPresent()
        || intent.copies() > 1
        || intent.extraForMotion()
        || intent.order() != Intent.Order.PLANNED) {
      throw new IllegalArgumentException(
          kept + "exposure: steps, copies, extra frames and their order are the camera's own");
    }
  }
}

package org.scenespan.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.List;
import org.scenespan.frame.FrameReading;
import org.scenespan.plan.SetReview;
import org.scenespan.plan.ShotFrame;

/** Lines for eyes; sets are told as soon as they are whole. */
final class TableListing implements FrameListing {
  private final PrintWriter out;
  private final PrintWriter err;
  private final FrameTable table;
  private final boolean onlySets;
  private final boolean summed;
  private int files;
  private int unread;
  private int sets;
  private int lossy;

  /**
   * @param onlySets whether the frames themselves are left out
   * @param summed whether a line at the end counts what was found
   */
  TableListing(
      PrintWriter out, PrintWriter err, FrameTable table, boolean onlySets, boolean summed) {
    this.out = out;
    this.err = err;
    this.table = table;
    this.onlySets = onlySets;
    this.summed = summed;
  }

  @Override
  public void start() {
    if (!onlySets) {
      out.println(table.heading());
    }
  }

  @Override
  public void frame(Path file, FrameReading reading) {
    files++;
    if (!onlySets) {
      table.lines(file, reading).forEach(out::println);
    }
  }

  @Override
  public void failed(Path file, String error) {
    files++;
    unread++;
    err.println("scenespan: " + Telling.printable(file + ": " + error));
    err.flush();
  }

  @Override
  public void pair(Path rawFile, FrameReading raw, Path jpegFile, FrameReading jpeg) {
    if (!onlySets) {
      out.println(table.pair(rawFile, raw, jpegFile, jpeg));
    }
  }

  @Override
  public void note(String words) {
    out.println(words);
  }

  @Override
  public void set(List<ShotFrame> frames, SetReview review) {
    sets++;
    lossy += review.isCovered() ? 0 : 1;
    SetWords.of(frames, review).forEach(line -> out.println(Telling.printable(line)));
  }

  @Override
  public void end() {
    if (summed) {
      out.println(
          counted(files, "file")
              + (unread == 0 ? "" : ", " + unread + " of them could not be read")
              + "; "
              + counted(sets, "set")
              + (sets == 0 ? "" : ", " + lossy + " with something lost")
              + ".");
    }
  }

  private static String counted(int count, String what) {
    return count + " " + what + (count == 1 ? "" : "s");
  }
}

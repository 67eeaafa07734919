package org.scenespan.folder;

/** A file cannot be read as a frame; the message says why in one line, without the file's name. */
public final class UnreadableFrame extends Exception {
  private static final long serialVersionUID = 1L;

  private static final int LONGEST_REASON = 200;

  public UnreadableFrame(String reason) {
    super(oneLine(reason));
  }

  public UnreadableFrame(String reason, Throwable cause) {
    super(oneLine(reason), cause);
  }

  private static String oneLine(String reason) {
    String line = reason.replaceAll("\\p{Cntrl}+", " ").strip();
    return line.length() <= LONGEST_REASON ? line : line.substring(0, LONGEST_REASON) + "…";
  }
}

package org.scenespan.session;

/** Whether two frames are taken before a lapse to see that the rig does what it is told. */
public enum RigCheck {
  OFF("off"),
  /** What is wrong is told, and the lapse goes on: one that nobody watches is better than none. */
  TELL("tell"),
  /** What would ruin the lapse ends it before it has begun. */
  STRICT("strict");

  private final String label;

  RigCheck(String label) {
    this.label = label;
  }

  /** The word for it. */
  public String label() {
    return label;
  }

  /**
   * @throws IllegalArgumentException if it is no such word
   */
  public static RigCheck parse(String word) {
    for (RigCheck check : values()) {
      if (check.label.equals(word)) {
        return check;
      }
    }
    throw new IllegalArgumentException(
        "a rig check (\"" + word + "\") is one of: off, tell, strict");
  }
}

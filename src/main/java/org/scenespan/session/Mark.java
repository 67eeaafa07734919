package org.scenespan.session;

/** What the photographer says of a frame. */
public enum Mark {
  NONE("none"),
  KEEP("keep"),
  REJECT("reject");

  private final String label;

  Mark(String label) {
    this.label = label;
  }

  /**
   * The mark of a word.
   *
   * @throws IllegalArgumentException if there is none
   */
  public static Mark of(String label) {
    for (Mark mark : values()) {
      if (mark.label.equals(label)) {
        return mark;
      }
    }
    throw new IllegalArgumentException("mark (" + label + ") must be none, keep or reject");
  }

  /** The word for it in the journal. */
  public String label() {
    return label;
  }
}

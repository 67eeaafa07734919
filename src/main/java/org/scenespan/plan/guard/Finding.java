package org.scenespan.plan.guard;

import java.util.Objects;

/**
 * Something about a frame that the studio has to know.
 *
 * @param kind of what
 * @param weight how bad
 * @param amount in the kind's own unit: stops, or a part of 1
 * @param words in a sentence, for the photographer
 */
public record Finding(Kind kind, Weight weight, double amount, String words) {
  public Finding {
    Objects.requireNonNull(kind);
    Objects.requireNonNull(words);
    if (!(Math.abs(amount) < Double.POSITIVE_INFINITY)) {
      throw new IllegalArgumentException("amount (" + amount + ") must be a finite number");
    }
    if (weight == Weight.NONE) {
      throw new IllegalArgumentException("what weighs nothing is no finding");
    }
  }

  /** What differs. */
  public enum Kind {
    EXPOSURE("exposure"),
    COLOUR("colour"),
    CLIPPING("clipping"),
    SHARPNESS("sharpness"),
    MISFIRE("misfire"),
    BAND("band"),
    SETTINGS("settings"),
    PATCH("patch"),
    TREND("trend"),
    UNLIKE("unlike");

    private final String label;

    Kind(String label) {
      this.label = label;
    }

    /** The word for it in the journal. */
    public String label() {
      return label;
    }
  }

  /** How bad it is. */
  public enum Weight {
    NONE("none"),
    WARNING("warning"),
    ALARM("alarm");

    private final String label;

    Weight(String label) {
      this.label = label;
    }

    /** The word for it in the journal. */
    public String label() {
      return label;
    }
  }
}

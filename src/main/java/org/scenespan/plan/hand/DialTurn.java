package org.scenespan.plan.hand;

import java.util.Locale;

/**
 * One turn of one dial.
 *
 * @param dial which
 * @param clicks how many, above 0
 * @param brighter whether the picture gets brighter by it
 * @param to what the dial shows then
 */
public record DialTurn(Dial dial, int clicks, boolean brighter, String to) {
  public DialTurn {
    if (!(clicks > 0)) {
      throw new IllegalArgumentException("clicks (" + clicks + ") must be above 0");
    }
  }

  /** A dial, with the words for its two ways. */
  public enum Dial {
    SHUTTER("shutter", "longer", "shorter"),
    APERTURE("aperture", "wider", "smaller"),
    ISO("ISO", "higher", "lower"),
    COMPENSATION("exposure compensation", "to plus", "to minus");

    private final String label;
    private final String brighter;
    private final String darker;

    Dial(String label, String brighter, String darker) {
      this.label = label;
      this.brighter = brighter;
      this.darker = darker;
    }

    public String label() {
      return label;
    }

    /** The word for one of its two ways. */
    public String way(boolean toBrighter) {
      return toBrighter ? brighter : darker;
    }
  }

  /** Which way, in a word. */
  public String way() {
    return dial.way(brighter);
  }

  /** {@code Shutter: 6 clicks shorter, to 1/250 s.} */
  public String words() {
    String name = dial.label().substring(0, 1).toUpperCase(Locale.ROOT);
    return name
        + dial.label().substring(1)
        + ": "
        + clicks
        + (clicks == 1 ? " click " : " clicks ")
        + way()
        + ", to "
        + to
        + ".";
  }
}

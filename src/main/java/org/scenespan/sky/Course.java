package org.scenespan.sky;

import java.time.Instant;
import java.util.List;

/** How the sun stands to one of the altitudes through one local day. */
public sealed interface Course {
  /**
   * It crosses, mostly once up and once down. Near the edge of a polar season one may be missing,
   * or happen twice in a day.
   *
   * @param rising when it comes up, ascending
   * @param setting when it goes down, ascending
   */
  record Crosses(List<Instant> rising, List<Instant> setting) implements Course {
    public Crosses {
      rising = List.copyOf(rising);
      setting = List.copyOf(setting);
      if (rising.isEmpty() && setting.isEmpty()) {
        throw new IllegalArgumentException("a crossing must have a time");
      }
    }
  }

  /** It stays above all day: for {@link Horizon#RISE_AND_SET} a polar day. */
  record StaysAbove() implements Course {}

  /** It stays below all day: for {@link Horizon#RISE_AND_SET} a polar night. */
  record StaysBelow() implements Course {}
}

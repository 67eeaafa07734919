package org.scenespan.proof.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ContactSheetTest {
  /** All where they have room; else the told ones as far as half of it goes, and an even choice. */
  @ParameterizedTest
  @CsvSource({"1, 0", "400, 3", "401, 1", "2000, 50", "2000, 2000", "20000, 300"})
  void showsWhatThereIsToLookAt(int count, int told) {
    List<SheetFrame> frames = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      boolean one = told > 0 && i % Math.max(1, count / told) == 0 && i / (count / told) < told;
      frames.add(new SheetFrame("" + i, List.of(), null, Optional.empty(), one));
    }
    List<SheetFrame> shown = ContactSheet.chosen(frames);
    assertTrue(shown.size() <= ContactSheet.MOST, "most");
    assertEquals(shown.size(), new HashSet<>(shown).size(), "each once");
    assertTrue(shown.contains(frames.get(0)) && shown.contains(frames.get(count - 1)), "both ends");
    long seen = shown.stream().filter(SheetFrame::told).count();
    assertTrue(seen >= Math.min(told, ContactSheet.MOST / 2), "told: " + seen);
    if (count <= ContactSheet.MOST) {
      assertEquals(frames, shown);
    }
  }
}

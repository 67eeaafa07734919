package org.scenespan.fuzz;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Map;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** A short run of each target, the same one every time; {@link Fuzzing} is the long one. */
@Timeout(120)
class FuzzTest {
  @ParameterizedTest
  @CsvSource({
    "jpeg, 1500",
    "dng, 1500",
    "profile, 2000",
    "line, 5000",
    "journal, 300",
    "request, 200",
  })
  void nothingEscapesAndNothingHangs(String name, int executions) throws Exception {
    try (Target target = Fuzzing.TARGETS.get(name).open()) {
      int[] left = {executions};
      assertEquals(Map.of(), Fuzzing.run(target, 1, () -> left[0]-- > 0));
    }
  }
}

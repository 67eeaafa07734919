package org.scenespan.fuzz;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Map;
import java.util.logging.Level;
import java.util.logging.Logger;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** A short run of each target, the same one every time; {@link Fuzzing} is the long one. */
@Timeout(120)
class FuzzTest {
  /** Held, or it forgets its level: the server tells of each request that makes no sense. */
  private static final Logger SERVER_LOG = Logger.getLogger("org.eclipse.jetty");

  @BeforeAll
  static void quiet() {
    SERVER_LOG.setLevel(Level.OFF);
  }

  @ParameterizedTest
  @CsvSource({
    "jpeg, 1500",
    "dng, 1500",
    "tiff, 1500",
    "png, 1500",
    "profile, 1000",
    "line, 2000",
    "journal, 150",
    "request, 200",
  })
  void nothingEscapesAndNothingHangs(String name, int executions) throws Exception {
    try (Target target = Fuzzing.TARGETS.get(name).open()) {
      int[] left = {executions};
      assertEquals(Map.of(), Fuzzing.run(target, 1, () -> left[0]-- > 0));
    }
  }
}

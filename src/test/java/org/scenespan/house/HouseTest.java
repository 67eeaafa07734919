package org.scenespan.house;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.lang.ArchRule;
import com.tngtech.archunit.lang.EvaluationResult;
import java.util.List;
import java.util.TreeSet;
import java.util.function.Function;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

/** The table of rooms holds, and each of its rules bites on a planted violation. */
class HouseTest {
  private static final String PLANTED = "org.scenespan.house.planted";

  private static final JavaClasses PROJECT =
      new ClassFileImporter()
          .withImportOption(ImportOption.Predefined.DO_NOT_INCLUDE_TESTS)
          .importPackages("org.scenespan");

  private static final JavaClasses VIOLATIONS = new ClassFileImporter().importPackages(PLANTED);

  static Stream<Arguments> rules() {
    return Stream.of(
        Arguments.of(
            (Function<House, ArchRule>) House::importsOnlyDownward,
            List.of("light.Upward", "folder.Sideways")),
        Arguments.of((Function<House, ArchRule>) House::everyClassHasARoom, List.of("attic.Lost")),
        Arguments.of((Function<House, ArchRule>) House::noCycles, List.of("light.Upward")),
        Arguments.of(
            (Function<House, ArchRule>) House::pureRoomsTouchNothing,
            List.of("plan.Logging", "session.Waiting", "wire.Reading", "frame.Guessing")),
        Arguments.of(
            (Function<House, ArchRule>) House::timeIsAnArgument,
            List.of("session.Clocked", "trigger.Ticking")));
  }

  @ParameterizedTest
  @MethodSource("rules")
  void holdsInTheProject(Function<House, ArchRule> rule, List<String> planted) {
    EvaluationResult result = rule.apply(new House("org.scenespan")).evaluate(PROJECT);
    assertTrue(PROJECT.size() > 50, "the project's classes were read");
    assertEquals(List.of(), result.getFailureReport().getDetails());
  }

  @ParameterizedTest
  @MethodSource("rules")
  void bitesOnEachPlantedViolation(Function<House, ArchRule> rule, List<String> planted) {
    String report =
        String.join(
            "\n",
            rule.apply(new House(PLANTED)).evaluate(VIOLATIONS).getFailureReport().getDetails());
    for (String violation : planted) {
      assertTrue(report.contains(PLANTED + "." + violation), violation + " in: " + report);
    }
  }

  @Test
  void everyRoomThatExistsIsInTheTable() {
    TreeSet<String> rooms = new TreeSet<>();
    PROJECT.forEach(
        type -> {
          String[] parts = type.getPackageName().split("\\.");
          rooms.add(parts.length > 2 ? parts[2] : "");
        });
    assertTrue(House.LAYERS.keySet().containsAll(rooms), "rooms: " + rooms);
  }
}

package org.scenespan.house;

import static com.tngtech.archunit.core.domain.JavaClass.Predicates.resideInAPackage;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;

import com.tngtech.archunit.base.DescribedPredicate;
import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaMethodCall;
import com.tngtech.archunit.lang.ArchCondition;
import com.tngtech.archunit.lang.ArchRule;
import com.tngtech.archunit.lang.ConditionEvents;
import com.tngtech.archunit.lang.SimpleConditionEvent;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Set;

/**
 * The table of rooms as rules over a root package, so that the same rules can be shown to bite on
 * planted classes.
 */
final class House {
  /** Every room and its layer; a room may import only from lower layers. */
  static final Map<String, Integer> LAYERS = layers();

  private static final int HIGHEST_PURE_LAYER = 4;

  /** Of java.io, what a pure room may name: exceptions and the marker of serialisable things. */
  private static final Set<String> HARMLESS_IO =
      Set.of("java.io.IOException", "java.io.Serializable", "java.io.UncheckedIOException");

  private static final Set<String> CLOCKS_AND_CHANCE =
      Set.of(
          "java.time.Instant.now",
          "java.time.LocalDateTime.now",
          "java.time.LocalDate.now",
          "java.time.OffsetDateTime.now",
          "java.time.ZonedDateTime.now",
          "java.time.Clock.systemUTC",
          "java.time.Clock.systemDefaultZone",
          "java.time.InstantSource.system",
          "java.lang.System.currentTimeMillis",
          "java.lang.System.nanoTime",
          "java.lang.Math.random");

  private final String root;

  House(String root) {
    this.root = root;
  }

  private static Map<String, Integer> layers() {
    Map<String, Integer> layers = new LinkedHashMap<>();
    layers.put("light", 0);
    layers.put("frame", 1);
    layers.put("sky", 1);
    layers.put("plan", 2);
    layers.put("session", 3);
    layers.put("wire", 4);
    for (String edge : Set.of("journal", "trigger", "folder", "dashboard", "rehearsal", "proof")) {
      layers.put(edge, 5);
    }
    layers.put("control", 6);
    layers.put("cli", 7);
    return layers;
  }

  /** A class of one room depends on rooms of lower layers only: neither upward nor sideways. */
  ArchRule importsOnlyDownward() {
    return classes()
        .that(resideInAPackage(root + ".."))
        .should(
            new ArchCondition<>("depend only on rooms of lower layers") {
              @Override
              public void check(JavaClass item, ConditionEvents events) {
                String room = room(item);
                for (var dependency : item.getDirectDependenciesFromSelf()) {
                  String other = room(dependency.getTargetClass());
                  boolean wrong =
                      room != null
                          && other != null
                          && !room.equals(other)
                          && LAYERS.get(other) >= LAYERS.get(room);
                  if (wrong) {
                    events.add(SimpleConditionEvent.violated(item, dependency.getDescription()));
                  }
                }
              }
            });
  }

  /** Every class lives in a room of the table. */
  ArchRule everyClassHasARoom() {
    return classes()
        .that(resideInAPackage(root + ".."))
        .should(
            new ArchCondition<>("live in a room of the table") {
              @Override
              public void check(JavaClass item, ConditionEvents events) {
                if (room(item) == null) {
                  events.add(SimpleConditionEvent.violated(item, item.getName() + " has no room"));
                }
              }
            });
  }

  ArchRule noCycles() {
    return slices().matching(root + ".(*)..").should().beFreeOfCycles();
  }

  /** No files, sockets, threads or logging below the edges. */
  ArchRule pureRoomsTouchNothing() {
    return noClasses()
        .that(arePure())
        .should()
        .dependOnClassesThat(
            new DescribedPredicate<>("files, sockets, threads, chance or logging") {
              @Override
              public boolean test(JavaClass target) {
                String name = target.getName();
                return name.startsWith("java.io.") && !HARMLESS_IO.contains(name)
                    || name.startsWith("java.nio.file.")
                    || name.startsWith("java.nio.channels.")
                    || name.startsWith("java.net.")
                    || name.startsWith("java.util.concurrent.")
                    || name.startsWith("java.util.logging.")
                    || name.startsWith("java.util.random.")
                    || name.startsWith("org.slf4j.")
                    || name.equals("java.lang.Thread")
                    || name.equals("java.util.Random")
                    || name.equals("java.util.SplittableRandom");
              }
            });
  }

  /** Time is an argument below {@code control}, in edges as in pure rooms. */
  ArchRule timeIsAnArgument() {
    return noClasses()
        .that(
            new DescribedPredicate<JavaClass>("live below control") {
              @Override
              public boolean test(JavaClass item) {
                String room = room(item);
                return room != null && LAYERS.get(room) < LAYERS.get("control");
              }
            })
        .should()
        .callMethodWhere(
            new DescribedPredicate<JavaMethodCall>("the clock or chance is asked") {
              @Override
              public boolean test(JavaMethodCall call) {
                return CLOCKS_AND_CHANCE.contains(
                    call.getTargetOwner().getName() + "." + call.getName());
              }
            });
  }

  private DescribedPredicate<JavaClass> arePure() {
    return new DescribedPredicate<>("live in a pure room") {
      @Override
      public boolean test(JavaClass item) {
        String room = room(item);
        return room != null && LAYERS.get(room) <= HIGHEST_PURE_LAYER;
      }
    };
  }

  /** The room of a class, or null if it lives in none. */
  private String room(JavaClass item) {
    String name = item.getPackageName();
    if (!name.startsWith(root + ".")) {
      return null;
    }
    String room = name.substring(root.length() + 1).split("\\.")[0];
    return LAYERS.containsKey(room) ? room : null;
  }
}

package org.scenespan.fuzz;

import java.time.Duration;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.BooleanSupplier;
import java.util.logging.Level;
import java.util.logging.Logger;

/** Feeds mutated inputs to the targets; as a program, each of them for some seconds. */
final class Fuzzing {
  /** The longest that any input may take, nanoseconds. */
  private static final long LONGEST_NANOS = 2_000_000_000L;

  private static final int MOST_FINDINGS = 20;

  private static final int MOST_SHOWN_BYTES = 1 << 16;

  interface Opening {
    Target open() throws Exception;
  }

  static final Map<String, Opening> TARGETS = targets();

  /** Held, or they forget their levels. */
  private static final Logger ROOT_LOG = Logger.getLogger("");

  private static final Logger SERVER_LOG = Logger.getLogger("org.eclipse.jetty");

  private Fuzzing() {}

  private static Map<String, Opening> targets() {
    Map<String, Opening> targets = new LinkedHashMap<>();
    targets.put("jpeg", () -> new FrameTarget("jpg"));
    targets.put("dng", () -> new FrameTarget("dng"));
    targets.put("tiff", () -> new FrameTarget("tif"));
    targets.put("png", () -> new FrameTarget("png"));
    targets.put("profile", ProfileTarget::new);
    targets.put("line", LineTarget::new);
    targets.put("journal", JournalTarget::new);
    targets.put("request", RequestTarget::new);
    return targets;
  }

  /**
   * Feeds one target as long as there is more to be fed.
   *
   * @return what went wrong, by where it did, with an input that shows it
   */
  static Map<String, String> run(Target target, long seed, BooleanSupplier more) {
    Map<String, String> findings = new LinkedHashMap<>();
    Mutator mutator = new Mutator(seed, target.seeds(), target.words(), target.shape());
    while (more.getAsBoolean() && findings.size() < MOST_FINDINGS) {
      byte[] input = mutator.next();
      long begin = System.nanoTime();
      String wrong = fed(target, input);
      if (wrong == null && System.nanoTime() - begin > LONGEST_NANOS) {
        wrong = slow(target, input);
      }
      if (wrong != null) {
        int shown = Math.min(input.length, MOST_SHOWN_BYTES);
        findings.putIfAbsent(wrong, HexFormat.of().formatHex(Arrays.copyOf(input, shown)));
      }
    }
    return findings;
  }

  /** Another go, by the processor's time, tells a slow input from a busy machine. */
  private static String slow(Target target, byte[] input) {
    Duration begin = processorTime();
    fed(target, input);
    Duration taken = processorTime().minus(begin);
    return taken.toNanos() > LONGEST_NANOS ? "took more than two seconds" : null;
  }

  private static Duration processorTime() {
    return ProcessHandle.current().info().totalCpuDuration().orElse(Duration.ZERO);
  }

  /** What went wrong, or nothing. */
  private static String fed(Target target, byte[] input) {
    try {
      target.feed(input);
      return null;
    } catch (Exception | StackOverflowError | OutOfMemoryError escaped) {
      return escaped
          + Arrays.stream(escaped.getStackTrace())
              .filter(frame -> frame.getClassName().startsWith("org.scenespan"))
              .findFirst()
              .map(frame -> " at " + frame)
              .orElse("");
    }
  }

  /** Seconds a target, and the first seed; the names of the targets, if not all are wanted. */
  public static void main(String[] arguments) throws Exception {
    ROOT_LOG.setLevel(Level.OFF);
    SERVER_LOG.setLevel(Level.OFF);
    long seconds = Long.parseLong(arguments[0]);
    long seed = Long.parseLong(arguments[1]);
    List<String> wanted = List.of(arguments).subList(2, arguments.length);
    for (Map.Entry<String, Opening> one : TARGETS.entrySet()) {
      if (!wanted.isEmpty() && !wanted.contains(one.getKey())) {
        continue;
      }
      try (Target target = one.getValue().open()) {
        long end = System.nanoTime() + seconds * 1_000_000_000L;
        long[] executions = {0};
        Map<String, String> findings =
            run(
                target,
                seed,
                () -> {
                  executions[0]++;
                  return System.nanoTime() < end;
                });
        System.out.println(one.getKey() + ": " + executions[0] + " executions");
        findings.forEach((wrong, input) -> System.out.println("  " + wrong + "\n    " + input));
      }
    }
  }
}

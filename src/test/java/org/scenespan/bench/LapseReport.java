package org.scenespan.bench;

import java.lang.management.ManagementFactory;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.scenespan.bench.LapseBench.Cell;

/** The lapse benchmark in words and tables. */
final class LapseReport {
  private static final double THIRDS_GOAL = 0.10;
  private static final double TIMED_GOAL = 0.03;
  private static final double SIGMA_GOAL = 0.005;
  private static final double LARGEST_GOAL = 0.014;
  private static final double SMOOTHER_GOAL = 5;
  private static final int DISC_GOAL = 3;

  private LapseReport() {}

  static String of(LapseBench bench, int seeds, double seconds) {
    StringBuilder text = new StringBuilder();
    text.append("# Benchmark: a lapse's ramp\n\n");
    add(
        text,
        "Written by `mvn -q -Pbench-lapse test-compile exec:java` in %.0f s on %d processors, Java"
            + " %s, load %.1f. %s%n%n",
        seconds,
        Runtime.getRuntime().availableProcessors(),
        Runtime.version().feature(),
        ManagementFactory.getOperatingSystemMXBean().getSystemLoadAverage(),
        bench.missing);
    setting(text, seeds);
    goals(text, bench, seeds);
    text.append("![Tracking error in bulb by light and interval](benchmarks-lapse.svg)\n\n");
    tracking(text, bench);
    smoothness(text, bench);
    evened(text, bench);
    return text.toString();
  }

  private static void setting(StringBuilder text, int seeds) {
    add(
        text,
        """
        ## What is run

        The clear sky of the model at 0°, 40° and 60° at an equinox, the sun from −14° to 8°; and three
        dawns of a roof's sensor (one row per 30 s) from the first row at EV −4 on, below which a step of
        the sensor is more than a tenth of a stop. Onto each come, by %d seeds: broken cloud (shades
        of 20 s to 4 min by 0.5 to 2.3 stops, gaps of 1 to 8 min, edges of 4 to 20 s, rims of up to 0.58
        stop), onto the measured dawns too, whose own clouds stay in; lens scatter, evenly spread to
        ±1/10 stop; normal noise of 0.02 stop. A frame is known one frame late, and its brightness is read
        with an error of 0.002 stop. The usual wish; no highlights; a timer's resolution is 0.01 ms. The
        first frame is taken by one reading, and every frame counts from then on.

        **Slow light** is what a lapse should follow: the sky's course without the clouds; of a measured
        dawn, a robust local regression of second degree over 25 rows (12.5 min). **Tracking** is the
        exposure's EV minus what the wish asks for in the slow light, root mean square over all frames
        and seeds. **Smoothness before evening** is the σ of d of the slow light under the exposures
        chosen, so that clouds and scatter, which no exposure can foresee, count only as far as they move
        the exposure. **Evened** is each frame as it was taken, clouds and scatter and all, with its gain;
        d is its distance from a locally weighted line over 25 frames. The gains are made from the readings,
        so what is left is the error of reading and the bend of what was meant.

        "Sky known" is given the place and the time; for the measured dawns the place is Tübingen, and the
        start, which the files do not tell, is the one whose sky fits best.

        """,
        seeds);
  }

  private static void goals(StringBuilder text, LapseBench bench, int seeds) {
    text.append("## Goals\n\n| goal | met in | worst |\n| --- | --- | --- |\n");
    for (String way : List.of("ramp", "ramp, sky known")) {
      within(text, bench, way + ": tracking in bulb, RMS ≤ 0.03", way, true, TIMED_GOAL);
      within(text, bench, way + ": tracking in thirds, RMS ≤ 0.10", way, false, THIRDS_GOAL);
    }
    int lapses = 0;
    int even = 0;
    int small = 0;
    double sigma = 0;
    double largest = 0;
    for (Cell cell : bench.cells) {
      if (!cell.way().startsWith("ramp")) {
        continue;
      }
      for (LapseTrial.Result result : cell.results()) {
        lapses++;
        even += result.evenedSigma() <= SIGMA_GOAL ? 1 : 0;
        small += result.evenedLargest() <= LARGEST_GOAL ? 1 : 0;
        sigma = Math.max(sigma, result.evenedSigma());
        largest = Math.max(largest, result.evenedLargest());
      }
    }
    add(text, "| evened σ ≤ 0.005 stop | %d of %d lapses | %.4f |%n", even, lapses, sigma);
    add(
        text,
        "| evened largest d ≤ 0.014 stop | %d of %d lapses | %.4f |%n",
        small,
        lapses,
        largest);
    int smoother = 0;
    int all = 0;
    double least = Double.POSITIVE_INFINITY;
    for (LapseLight light : bench.lights) {
      for (int interval : LapseBench.INTERVALS) {
        double times = times(bench, light, interval, "ramp");
        smoother += times >= SMOOTHER_GOAL ? 1 : 0;
        all++;
        least = Math.min(least, times);
      }
    }
    add(
        text,
        "| 5 × smoother than the best rival in bulb, sky not known | %d of %d cells | %.1f × |%n",
        smoother,
        all,
        least);
    scenes(text, bench, seeds);
    text.append('\n');
  }

  private static void within(
      StringBuilder text, LapseBench bench, String name, String way, boolean isTimed, double goal) {
    List<Cell> cells =
        bench.cells.stream().filter(it -> it.way().equals(way) && it.isTimed() == isTimed).toList();
    long met = cells.stream().filter(it -> it.rms() <= goal).count();
    double worst = cells.stream().mapToDouble(Cell::rms).max().orElseThrow();
    add(text, "| %s | %d of %d cells | %.3f |%n", name, met, cells.size(), worst);
  }

  private static void scenes(StringBuilder text, LapseBench bench, int seeds) {
    double largest = 0;
    int crossings = 0;
    List<Integer> frames = new ArrayList<>();
    int clouds = 0;
    for (LapseLight light : bench.lights) {
      if (!light.name().startsWith("sky")) {
        continue;
      }
      for (int interval : LapseBench.INTERVALS) {
        LapseScenes.AfterCloud after = LapseScenes.cloud(light, interval);
        largest = Math.max(largest, after.largest());
        crossings = Math.max(crossings, after.crossings());
        clouds++;
        for (int seed = 0; seed < seeds; seed++) {
          frames.add(LapseScenes.disc(light, interval, seed));
        }
      }
    }
    add(
        text,
        "| no oscillation after a cloud of 2 min, 2.3 stops (the error changes sides at most once)"
            + " | at most %d changes in %d runs | %.3f stop off |%n",
        crossings,
        clouds,
        largest);
    long held = frames.stream().filter(it -> it <= DISC_GOAL).count();
    add(
        text,
        "| at most 3 frames clipped beyond the wish after the disc appears | %d of %d runs | %d"
            + " frames |%n",
        held,
        frames.size(),
        frames.stream().mapToInt(it -> it).max().orElseThrow());
  }

  private static void tracking(StringBuilder text, LapseBench bench) {
    text.append("## Tracking, RMS in stops (the worst seed in brackets)\n\n");
    text.append(
        "| light | interval | bulb | bulb, sky known | thirds | thirds, sky known | from the last |"
            + " dead band | smoothed |\n");
    text.append("| --- | --- | --- | --- | --- | --- | --- | --- | --- |\n");
    for (LapseLight light : bench.lights) {
      for (int interval : LapseBench.INTERVALS) {
        add(text, "| %s | %d s |", light.name(), interval);
        for (boolean isTimed : new boolean[] {true, false}) {
          for (String way : List.of("ramp", "ramp, sky known")) {
            Cell cell = bench.cell(light.name(), interval, way, isTimed);
            add(text, " %.3f (%.3f) |", cell.rms(), cell.worst(LapseTrial.Result::rms));
          }
        }
        for (LapseTrial.Rival rival : LapseTrial.Rival.values()) {
          add(text, " %.2f |", bench.cell(light.name(), interval, rival.words, true).rms());
        }
        text.append('\n');
      }
    }
    text.append('\n');
  }

  private static double times(LapseBench bench, LapseLight light, int interval, String way) {
    double own = bench.cell(light.name(), interval, way, true).mean(LapseTrial.Result::before);
    return bench.bestRival(light.name(), interval).mean(LapseTrial.Result::before) / own;
  }

  private static void smoothness(StringBuilder text, LapseBench bench) {
    text.append("## Smoothness before evening in bulb, σ of d in stops, and changes in thirds\n\n");
    text.append(
        "| light | interval | ramp | sky known | best rival | times smoother | with the sky |"
            + " changes of setting in thirds | of the dead band |\n");
    text.append("| --- | --- | --- | --- | --- | --- | --- | --- | --- |\n");
    for (LapseLight light : bench.lights) {
      for (int interval : LapseBench.INTERVALS) {
        Cell rival = bench.bestRival(light.name(), interval);
        add(
            text,
            "| %s | %d s | %.4f | %.4f | %.4f (%s) | %.1f | %.1f | %.0f | %.0f |%n",
            light.name(),
            interval,
            bench.cell(light.name(), interval, "ramp", true).mean(LapseTrial.Result::before),
            bench
                .cell(light.name(), interval, "ramp, sky known", true)
                .mean(LapseTrial.Result::before),
            rival.mean(LapseTrial.Result::before),
            rival.way(),
            times(bench, light, interval, "ramp"),
            times(bench, light, interval, "ramp, sky known"),
            bench.cell(light.name(), interval, "ramp", false).mean(LapseTrial.Result::changes),
            bench
                .cell(light.name(), interval, LapseTrial.Rival.DEAD_BAND.words, true)
                .mean(LapseTrial.Result::changes));
      }
    }
    text.append('\n');
  }

  private static void evened(StringBuilder text, LapseBench bench) {
    text.append("## Evened, in stops: the worst of the seeds, sky not known\n\n");
    text.append(
        "| light | interval | σ, bulb | largest d, bulb | σ, thirds | largest d, thirds |\n");
    text.append("| --- | --- | --- | --- | --- | --- |\n");
    for (LapseLight light : bench.lights) {
      for (int interval : LapseBench.INTERVALS) {
        add(text, "| %s | %d s |", light.name(), interval);
        for (boolean isTimed : new boolean[] {true, false}) {
          Cell cell = bench.cell(light.name(), interval, "ramp", isTimed);
          add(
              text,
              " %.4f | %.4f |",
              cell.worst(LapseTrial.Result::evenedSigma),
              cell.worst(LapseTrial.Result::evenedLargest));
        }
        text.append('\n');
      }
    }
  }

  private static void add(StringBuilder text, String format, Object... values) {
    text.append(String.format(Locale.ROOT, format.replace("%n", "\n"), values));
  }
}

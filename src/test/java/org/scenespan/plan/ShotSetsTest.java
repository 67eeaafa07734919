package org.scenespan.plan;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.scenespan.frame.ClippedAreas;
import org.scenespan.frame.FrameSource;
import org.scenespan.frame.LogHistogram;
import org.scenespan.light.Aperture;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;

class ShotSetsTest {
  /**
   * A frame as {@code camera@seconds:shutter:median}, with {@code |width} behind it if it is not
   * 6000 pixels wide.
   */
  private static ShotFrame frame(int place, String words) {
    String[] sized = words.split("\\|");
    String[] parts = sized[0].split("[@:]");
    LogHistogram.Builder light = new LogHistogram.Builder();
    light.add(Math.pow(2, Double.parseDouble(parts[3])), 100);
    LogHistogram histogram = light.build();
    return new ShotFrame(
        Integer.toString(place),
        Optional.of(parts[0]),
        Instant.EPOCH.plusMillis((long) (1000 * Double.parseDouble(parts[1]))),
        sized.length > 1 ? Integer.parseInt(sized[1]) : 6000,
        4000,
        new Evidence(
            new Exposure(Shutter.parse(parts[2]), Aperture.ofNominal(8), Iso.ofNominal(100)),
            FrameSource.FULL,
            histogram,
            histogram,
            ClippedAreas.NONE));
  }

  private static String sets(Duration pause, String words) {
    ShotSets sets = new ShotSets(pause);
    List<List<ShotFrame>> found = new ArrayList<>();
    int place = 0;
    for (String one : words.split(" +")) {
      found.addAll(sets.add(frame(++place, one)));
    }
    found.addAll(sets.end());
    return found.stream()
        .map(set -> set.stream().map(ShotFrame::file).collect(Collectors.joining(" ")))
        .collect(Collectors.joining(", "));
  }

  @ParameterizedTest(name = "{0}")
  @CsvSource(
      nullValues = "none",
      value = {
        "three two stops apart, A@0:1/60:-3 A@2:1/250:-5 A@4:1/15:-1, 1 2 3",
        "two sets in a row, A@0:1/60:-3 A@1:1/250:-5 A@2:1/60:-3 A@3:1/250:-5, '1 2, 3 4'",
        "a copy of each, A@0:1/60:-3 A@1:1/60:-3 A@2:1/250:-5 A@3:1/250:-5, 1 2 3 4",
        "single frames, A@0:1/60:-3 A@1:1/60:-3 A@2:1/60:-3, ''",
        "too far apart, A@0:1/60:-3 A@16:1/250:-5, ''",
        "a long exposure is no pause, A@0:20s:-3 A@30:5s:-5, 1 2",
        "two cameras in turn, A@0:1/60:-3 B@0:1/60:-3 A@1:1/250:-5 B@1:1/250:-5, '1 3, 2 4'",
        "another size, A@0:1/60:-3 A@1:1/250:-5|3000, ''",
        "each metered anew, A@0:1/60:-3 A@1:1/250:-3 A@2:1/1000:-3.1, ''",
        "tone-mapped: a stop looks like 0.4, A@0:1/60:-3 A@1:1/125:-3.4, 1 2",
        "white stays white, A@0:1/60:-1 A@1:1s:-0.1, 1 2",
        "black stays black, A@0:1/60:-9 A@1:1/1000:-11.9, 1 2",
        "less than half a click, A@0:0.01s:-3 A@1:0.0105s:-3, ''",
      })
  void recognisesSets(String what, String frames, String sets) {
    assertEquals(sets, sets(Duration.ofSeconds(15), frames));
  }

  /** Beyond sixteen cameras the one that began first is told whole, not forgotten. */
  @Test
  void moreCamerasThanItHoldsLoseNoSet() {
    ShotSets sets = new ShotSets(Duration.ofSeconds(15));
    int early = 0;
    for (int i = 0; i < 100; i++) {
      early += sets.add(frame(2 * i, "C" + i + "@0:1/60:-3")).size();
      early += sets.add(frame(2 * i + 1, "C" + i + "@1:1/250:-5")).size();
    }
    assertEquals(100 - 16, early);
    assertEquals(16, sets.end().size());
  }

  @Test
  void refusesAPauseThatIsNone() {
    assertThrows(IllegalArgumentException.class, () -> new ShotSets(Duration.ofSeconds(-1)));
    assertThrows(IllegalArgumentException.class, () -> new ShotSets(Duration.ofHours(2)));
  }
}

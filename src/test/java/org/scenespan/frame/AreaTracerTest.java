package org.scenespan.frame;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.ArrayDeque;
import java.util.Arrays;
import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.scenespan.light.Share;

/** Connected areas, found row by row, are those that a flood fill finds. */
class AreaTracerTest {
  private static ClippedAreas trace(byte[][] rows) {
    ClippedRuns upper = new ClippedRuns(rows.length / 2);
    ClippedRuns lower = new ClippedRuns(rows.length - rows.length / 2);
    for (int y = 0; y < rows.length; y++) {
      boolean above = y < rows.length / 2;
      int width = rows[0].length;
      if (y % 2 == 0) {
        (above ? upper : lower).row(above ? y : y - rows.length / 2, rows[y], width);
      } else {
        RowOrder order = new RowOrder(width);
        int[] planes = new int[order.length()];
        for (int x = 0; x < width; x++) {
          int code = rows[y][x] == PixelFlags.CLIPPED ? 255 : 100;
          planes[order.placeOf(x)] = PackedPixel.of(code, 0, 0);
        }
        (above ? upper : lower)
            .packed(above ? y : y - rows.length / 2, planes, order, group -> true);
      }
    }
    return ClippedRuns.areas(List.of(upper, lower), rows[0].length);
  }

  private static byte[][] picture(String drawing) {
    return Arrays.stream(drawing.split("/"))
        .map(
            row -> {
              byte[] flags = new byte[row.length()];
              for (int x = 0; x < row.length(); x++) {
                flags[x] = row.charAt(x) == '#' ? PixelFlags.CLIPPED : 0;
              }
              return flags;
            })
        .toArray(byte[][]::new);
  }

  @ParameterizedTest
  @CsvSource({
    "...../....., ''",
    "#..../....#, 2",
    "#..../.#..., '0,2'",
    "#.#.#/#.#.#/#####, '0,0,0,11'",
    "####./#..#./####., '0,0,0,10'",
    "#.#../.#.../#.#.., '0,0,5'",
    "##.##/...../##.##, '0,8'",
  })
  void addsUpPixelsByTheSizeOfTheirArea(String drawing, String expected) {
    List<Long> sizes =
        expected.isEmpty()
            ? List.of()
            : Arrays.stream(expected.split(",")).map(Long::valueOf).toList();
    assertEquals(sizes, trace(picture(drawing)).pixelsBySize());
  }

  @ParameterizedTest
  @ValueSource(doubles = {0.1, 0.3, 0.45, 0.6, 0.9})
  void agreesWithAFloodFill(double density) {
    SplittableRandom random = new SplittableRandom(7);
    byte[][] rows = new byte[61][83];
    for (byte[] row : rows) {
      for (int x = 0; x < row.length; x++) {
        row[x] = random.nextDouble() < density ? PixelFlags.CLIPPED : 0;
      }
    }
    long[] expected = flooded(rows);
    List<Long> found = trace(rows).pixelsBySize();
    for (int k = 0; k < expected.length; k++) {
      assertEquals(expected[k], k < found.size() ? found.get(k) : 0, "class " + k);
    }
  }

  private static long[] flooded(byte[][] rows) {
    boolean[][] seen = new boolean[rows.length][rows[0].length];
    long[] bySize = new long[20];
    for (int y = 0; y < rows.length; y++) {
      for (int x = 0; x < rows[0].length; x++) {
        int size = 0;
        ArrayDeque<int[]> open = new ArrayDeque<>();
        open.add(new int[] {x, y});
        while (!open.isEmpty()) {
          int[] at = open.remove();
          boolean inside =
              at[0] >= 0 && at[1] >= 0 && at[1] < rows.length && at[0] < rows[0].length;
          if (!inside || seen[at[1]][at[0]] || rows[at[1]][at[0]] == 0) {
            continue;
          }
          seen[at[1]][at[0]] = true;
          size++;
          for (int near = 0; near < 9; near++) {
            open.add(new int[] {at[0] + near % 3 - 1, at[1] + near / 3 - 1});
          }
        }
        if (size > 0) {
          bySize[31 - Integer.numberOfLeadingZeros(size)] += size;
        }
      }
    }
    return bySize;
  }

  @Test
  void countsOnlyAreasThatAreSurelySmallEnough() {
    ClippedAreas areas = new ClippedAreas(List.of(5L, 6L, 12L, 100L));
    assertEquals(0.011, areas.inAreasUpTo(new Share(0.003), 1000).value(), 1e-12);
    assertEquals(0.023, areas.inAreasUpTo(new Share(0.007), 1000).value(), 1e-12);
    assertEquals(0, areas.inAreasUpTo(Share.NONE, 1000).value());
  }
}

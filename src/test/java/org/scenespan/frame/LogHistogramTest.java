package org.scenespan.frame;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.scenespan.light.Share;
import org.scenespan.light.Stops;

class LogHistogramTest {
  @ParameterizedTest
  @CsvSource({
    "1, 96",
    "2, 96",
    "Infinity, 96",
    "0.9999, 95",
    "0.5, 90",
    "0.4999, 89",
    "0.25, 84",
    "0, 0",
    "-1, 0",
    "NaN, 0",
    "-Infinity, 0",
    "1e-300, 0",
    "1.52587890625e-5, 0"
  })
  void binOf(double linear, int bin) {
    assertEquals(bin, LogHistogram.binOf(linear));
  }

  /** Every value that is not within rounding of an edge falls where the logarithm says. */
  @Test
  void binsAsTheLogarithmSays() {
    Random random = new Random(3);
    for (int i = 0; i < 200_000; i++) {
      double stops = random.nextDouble() * 18 - 17.5;
      double position = (stops + 16) * 6;
      if (Math.abs(position - Math.rint(position)) < 1e-8) {
        continue;
      }
      int expected = (int) Math.max(0, Math.min(96, Math.floor(position)));
      assertEquals(expected, LogHistogram.binOf(Math.pow(2, stops)), () -> stops + " stops");
    }
  }

  @Test
  void aValueOnAnEdgeBelongsToTheBinAboveIt() {
    for (int bin = 1; bin <= LogHistogram.SATURATED_BIN; bin++) {
      double edge = LogHistogram.lowerEdge(bin).ratio();
      assertEquals(bin, LogHistogram.binOf(edge));
      assertEquals(bin, LogHistogram.binOf(edge * (1 - 1e-12)), "rounding just below it");
      assertEquals(bin - 1, LogHistogram.binOf(edge * (1 - 1e-9)));
    }
  }

  @Test
  void noPixelIsLost() {
    Random random = new Random(11);
    LogHistogram.Builder builder = new LogHistogram.Builder();
    long added = 0;
    for (int i = 0; i < 10_000; i++) {
      long pixels = random.nextInt(5);
      builder.add(Math.exp(random.nextGaussian() * 8 - 4), pixels);
      added += pixels;
    }
    LogHistogram histogram = builder.build();
    assertEquals(added, histogram.total());
    assertEquals(added, Arrays.stream(histogram.counts()).sum());
    assertEquals(histogram, LogHistogram.ofCounts(histogram.counts()));
  }

  @Test
  void codesGoWhereTheirLightIs() {
    long[] codes = new long[256];
    codes[0] = 3;
    codes[118] = 5;
    codes[255] = 7;
    ToneResponse srgb = ToneResponse.srgb(8);
    LogHistogram histogram = LogHistogram.ofCodes(codes, srgb::linear);
    assertEquals(3, histogram.count(0));
    assertEquals(7, histogram.count(LogHistogram.SATURATED_BIN));
    // Code 118 is 18.1 % of full scale (ISO 12232, S_sos), 2.47 stops below white.
    assertEquals(5, histogram.count((int) Math.floor((16 - 2.466) * 6)));
  }

  @Test
  void percentilesAndSharesAgree() {
    LogHistogram.Builder builder = new LogHistogram.Builder();
    builder.add(Math.pow(2, -4 + 0.01), 50);
    builder.add(Math.pow(2, -1 + 0.01), 40);
    builder.add(1, 10);
    LogHistogram histogram = builder.build();
    assertEquals(-4 + 1.0 / 6, histogram.percentile(new Share(0.5)).value(), 1e-9);
    assertEquals(-1 + 1.0 / 12, histogram.percentile(new Share(0.7)).value(), 1e-9);
    assertEquals(0, histogram.percentile(new Share(0.95)).value());
    assertEquals(0.1, histogram.shareAtOrAbove(Stops.ZERO).value(), 1e-12);
    assertEquals(0.5, histogram.shareAtOrAbove(new Stops(-2)).value(), 1e-12);
    assertEquals(0.5, histogram.shareBelow(new Stops(-2)).value(), 1e-12);
    assertEquals(1, histogram.shareAtOrAbove(new Stops(-16)).value(), 1e-12);
    assertEquals(0, histogram.shareAtOrAbove(new Stops(0.5)).value(), 1e-12);
  }

  @ParameterizedTest
  @ValueSource(ints = {1, 2, 3, 4, 5})
  void percentileIsTheInverseOfShareBelow(int seed) {
    Random random = new Random(seed);
    LogHistogram.Builder builder = new LogHistogram.Builder();
    for (int i = 0; i < 1000; i++) {
      builder.add(Math.pow(2, random.nextDouble() * -15), 1 + random.nextInt(9));
    }
    LogHistogram histogram = builder.build();
    double before = -17;
    for (double share = 0.001; share < 1; share += 0.001) {
      double level = histogram.percentile(new Share(share)).value();
      assertTrue(level >= before, "percentiles rise");
      before = level;
      assertEquals(share, histogram.shareBelow(new Stops(level)).value(), 1e-9);
    }
  }

  @Test
  void refusesWhatIsNoHistogram() {
    assertThrows(IllegalArgumentException.class, () -> LogHistogram.ofCounts(new long[96]));
    long[] negative = new long[97];
    negative[4] = -1;
    assertThrows(IllegalArgumentException.class, () -> LogHistogram.ofCounts(negative));
    LogHistogram empty = new LogHistogram.Builder().build();
    assertThrows(IllegalStateException.class, () -> empty.percentile(Share.NONE));
  }
}

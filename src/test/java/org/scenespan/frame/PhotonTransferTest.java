package org.scenespan.frame;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Variances drawn by the noise model of Hasinoff, Durand and Freeman (CVPR 2010), S + σ² + g²/12 in
 * electrons squared; what photon transfer (Janesick 2007) makes of them is held against the truth.
 */
class PhotonTransferTest {
  private static final int FREEDOM = 255;
  private static final int BITS = 14;

  private static double variance(double light, double well, double readNoise) {
    double step = well / (1 << BITS);
    double electrons = light * well + readNoise * readNoise + step * step / 12;
    return electrons / (well * well);
  }

  /** Patches from 0.1 % to 80 % of saturation, even in the logarithm. */
  private static List<PhotonTransfer.Sample> samples(
      double well, double readNoise, double ratio, int count, SplittableRandom random) {
    List<PhotonTransfer.Sample> samples = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      double light = 0.001 * Math.pow(800, (double) i / count);
      double truth =
          variance(light, well, readNoise)
              + ratio * ratio * variance(light / ratio, well, readNoise);
      double drawn = truth * (1 + Math.sqrt(2.0 / FREEDOM) * random.nextGaussian());
      samples.add(new PhotonTransfer.Sample(light, ratio, drawn, FREEDOM, i % 8));
    }
    return samples;
  }

  @ParameterizedTest
  @CsvSource({
    "50000, 3, 1",
    "30000, 2.5, 1",
    "12000, 2, 1",
    "60000, 20, 1",
    "50000, 3, 2",
    "30000, 5, 4",
  })
  void findsTheTruthWithinItsOwnErrors(double well, double readNoise, double ratio) {
    PhotonTransfer.Result found =
        PhotonTransfer.fit(samples(well, readNoise, ratio, 1000, new SplittableRandom(3)), BITS)
            .orElseThrow();
    assertEquals(well, found.saturation(), 3 * found.saturationError(), found.toString());
    assertEquals(readNoise, found.readNoise(), 3 * found.readNoiseError(), found.toString());
    assertTrue(found.saturationError() < 0.01 * well, found.toString());
    assertTrue(found.readNoiseError() < 0.1 * readNoise, found.toString());
  }

  /** Two standard errors hold the truth 19 times in 20; of 200 runs 180 at least. */
  @Test
  void isAsSureAsItSays() {
    SplittableRandom random = new SplittableRandom(5);
    int wells = 0;
    int reads = 0;
    for (int run = 0; run < 200; run++) {
      PhotonTransfer.Result found =
          PhotonTransfer.fit(samples(40_000, 4, 1, 200, random), BITS).orElseThrow();
      wells += Math.abs(found.saturation() - 40_000) <= 2 * found.saturationError() ? 1 : 0;
      reads += Math.abs(found.readNoise() - 4) <= 2 * found.readNoiseError() ? 1 : 0;
    }
    assertTrue(wells >= 180 && reads >= 180, wells + ", " + reads + " of 200");
  }

  /** Leaves that moved in every twentieth patch. */
  @Test
  void leavesOutWhatMoved() {
    List<PhotonTransfer.Sample> samples = samples(40_000, 4, 1, 1000, new SplittableRandom(7));
    for (int i = 0; i < samples.size(); i += 20) {
      PhotonTransfer.Sample still = samples.get(i);
      samples.set(
          i,
          new PhotonTransfer.Sample(
              still.light(), 1, 20 * still.variance(), FREEDOM, still.group()));
    }
    PhotonTransfer.Result found = PhotonTransfer.fit(samples, BITS).orElseThrow();
    assertEquals(40_000, found.saturation(), 3 * found.saturationError());
    assertEquals(4, found.readNoise(), 3 * found.readNoiseError());
    assertEquals(950, found.samples(), 5);
  }

  @Test
  void saysNothingOfTooLittle() {
    List<PhotonTransfer.Sample> few = samples(40_000, 4, 1, 20, new SplittableRandom(9));
    assertEquals(Optional.empty(), PhotonTransfer.fit(few, BITS));
    List<PhotonTransfer.Sample> alike = new ArrayList<>();
    for (int i = 0; i < 200; i++) {
      alike.add(new PhotonTransfer.Sample(0.3, 1, 1.5e-5, FREEDOM, 0));
    }
    assertEquals(Optional.empty(), PhotonTransfer.fit(alike, BITS));
    assertEquals(Optional.empty(), PhotonTransfer.fit(List.of(), BITS));
  }
}

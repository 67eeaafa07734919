package org.scenespan.proof;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;

/**
 * Exposure fusion: one picture for the eye from a bracket's own renderings, without radiance in
 * between (T. Mertens, J. Kautz &amp; F. Van Reeth, "Exposure Fusion", Pacific Graphics 2007). Each
 * pixel's weight is the product of contrast (a Laplacian filter of grey), saturation (standard
 * deviation of the channels) and well-exposedness (a Gauss curve about the middle, σ 0.2), all with
 * exponent 1; the frames are blended in Laplacian pyramids of all levels.
 */
final class Fusion {
  private static final float SIGMA = 0.2f;

  /** Where no frame has any weight they count alike; far below any real weight. */
  private static final float LEAST_WEIGHT = 1e-12f;

  /** Grey of encoded red, green and blue (ITU-R BT.601). */
  private static final float[] GREY = {0.299f, 0.587f, 0.114f};

  private final int width;
  private final int height;
  private final int levels;

  /** The pictures that are fused; each is asked for twice. */
  interface Pictures {
    int count();

    /** Three channels of one picture, encoded for the eye, 0 to 1. */
    Plane[] load(int index) throws IOException;
  }

  Fusion(int width, int height) {
    this.width = width;
    this.height = height;
    this.levels = 31 - Integer.numberOfLeadingZeros(Math.min(width, height));
  }

  /** Three channels of the fused picture; about 0 to 1, since blending can overshoot a little. */
  Plane[] fuse(Pictures pictures) throws IOException {
    float[] sum = new float[width * height];
    for (int i = 0; i < pictures.count(); i++) {
      float[] weights = weights(pictures.load(i));
      IntStream.range(0, height)
          .parallel()
          .forEach(y -> addTo(sum, weights, y * width, (y + 1) * width));
    }
    List<Plane[]> blended = new ArrayList<>();
    for (int i = 0; i < pictures.count(); i++) {
      Plane[] picture = pictures.load(i);
      float[] weights = weights(picture);
      for (int p = 0; p < sum.length; p++) {
        weights[p] /= sum[p];
      }
      blend(picture, new Plane(width, height, weights), blended);
    }
    return collapsed(blended);
  }

  private static void addTo(float[] sum, float[] weights, int from, int to) {
    for (int p = from; p < to; p++) {
      sum[p] += weights[p];
    }
  }

  private void blend(Plane[] picture, Plane weights, List<Plane[]> blended) {
    List<Plane> weightLevels = new ArrayList<>(List.of(weights));
    for (int level = 0; level < levels; level++) {
      weightLevels.add(weightLevels.get(level).reduced());
    }
    if (blended.isEmpty()) {
      for (Plane level : weightLevels) {
        Plane[] channels = new Plane[3];
        for (int c = 0; c < 3; c++) {
          channels[c] = Plane.empty(level.width(), level.height());
        }
        blended.add(channels);
      }
    }
    for (int c = 0; c < 3; c++) {
      Plane current = picture[c];
      picture[c] = null;
      for (int level = 0; level < levels; level++) {
        Plane next = current.reduced();
        float[] into = blended.get(level)[c].values();
        float[] weight = weightLevels.get(level).values();
        float[] value = current.values();
        next.expand(current, (p, predicted) -> into[p] += weight[p] * (value[p] - predicted));
        current = next;
      }
      float[] into = blended.get(levels)[c].values();
      for (int p = 0; p < into.length; p++) {
        into[p] += weightLevels.get(levels).values()[p] * current.values()[p];
      }
    }
  }

  private Plane[] collapsed(List<Plane[]> blended) {
    for (int level = levels; level > 0; level--) {
      for (int c = 0; c < 3; c++) {
        Plane big = blended.get(level - 1)[c];
        blended.get(level)[c].expand(big, (p, predicted) -> big.values()[p] += predicted);
      }
    }
    return blended.get(0);
  }

  private float[] weights(Plane[] picture) {
    float[] grey = new float[width * height];
    float[] weights = new float[width * height];
    float[] r = picture[0].values();
    float[] g = picture[1].values();
    float[] b = picture[2].values();
    IntStream.range(0, height)
        .parallel()
        .forEach(
            y -> {
              for (int p = y * width; p < (y + 1) * width; p++) {
                grey[p] = GREY[0] * r[p] + GREY[1] * g[p] + GREY[2] * b[p];
              }
            });
    IntStream.range(0, height)
        .parallel()
        .forEach(
            y -> {
              int above = width * (y == 0 ? Math.min(1, height - 1) : y - 1);
              int below = width * (y == height - 1 ? Math.max(0, height - 2) : y + 1);
              for (int x = 0, p = y * width; x < width; x++, p++) {
                int left = x == 0 ? Math.min(1, width - 1) : x - 1;
                int right = x == width - 1 ? Math.max(0, width - 2) : x + 1;
                float contrast =
                    Math.abs(
                        grey[above + x]
                            + grey[y * width + left]
                            - 4 * grey[p]
                            + grey[y * width + right]
                            + grey[below + x]);
                weights[p] =
                    contrast * saturation(r[p], g[p], b[p]) * wellExposed(r[p], g[p], b[p])
                        + LEAST_WEIGHT;
              }
            });
    return weights;
  }

  private static float saturation(float r, float g, float b) {
    float mean = (r + g + b) * (1f / 3);
    float squares = (r - mean) * (r - mean) + (g - mean) * (g - mean) + (b - mean) * (b - mean);
    return (float) Math.sqrt(squares);
  }

  private static float wellExposed(float r, float g, float b) {
    float squares = (r - 0.5f) * (r - 0.5f) + (g - 0.5f) * (g - 0.5f) + (b - 0.5f) * (b - 0.5f);
    return (float) Math.exp(-squares / (2 * SIGMA * SIGMA));
  }
}

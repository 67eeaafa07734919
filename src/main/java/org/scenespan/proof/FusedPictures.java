package org.scenespan.proof;

import java.awt.image.BufferedImage;
import java.awt.image.DataBufferByte;
import java.io.IOException;
import java.util.List;
import org.scenespan.frame.CodeScale;
import org.scenespan.frame.ToneResponse;

/**
 * A bracket's frames as the eye sees them, made smaller where they are too big to be fused whole.
 */
final class FusedPictures implements Fusion.Pictures {
  /**
   * The most pixels that are fused: the pyramids take about 43 bytes a pixel, so about half a GiB.
   */
  static final int MOST_PIXELS = 12_000_000;

  private final List<FrameStore> stores;
  private final int factor;

  FusedPictures(List<FrameStore> stores) {
    this.stores = stores;
    long pixels = (long) stores.get(0).width() * stores.get(0).height();
    int times = 1;
    while (pixels / ((long) times * times) > MOST_PIXELS) {
      times++;
    }
    this.factor = times;
  }

  /** By how much each side is reduced: a whole number, 1 where nothing is. */
  int factor() {
    return factor;
  }

  int width() {
    return stores.get(0).width() / factor;
  }

  int height() {
    return stores.get(0).height() / factor;
  }

  @Override
  public int count() {
    return stores.size();
  }

  @Override
  public Plane[] load(int index) throws IOException {
    FrameStore store = stores.get(index);
    float[] shown = shown(store);
    Plane[] planes = new Plane[3];
    for (int c = 0; c < 3; c++) {
      planes[c] = Plane.empty(width(), height());
    }
    short[] codes = new short[3 * store.width() * factor];
    for (int y = 0; y < height(); y++) {
      store.rows(y * factor, factor, codes);
      for (int x = 0; x < width(); x++) {
        for (int c = 0; c < 3; c++) {
          planes[c].values()[y * width() + x] = mean(codes, store.width(), x, c, shown);
        }
      }
    }
    return planes;
  }

  private float mean(short[] codes, int width, int x, int channel, float[] shown) {
    float sum = 0;
    for (int dy = 0; dy < factor; dy++) {
      int at = 3 * (dy * width + x * factor) + channel;
      for (int dx = 0; dx < factor; dx++, at += 3) {
        sum += shown[codes[at] & 0xffff];
      }
    }
    return sum / (factor * factor);
  }

  /** A rendering's own codes; raw light encoded as sRGB. */
  private static float[] shown(FrameStore store) {
    CodeScale scale = store.form().response();
    float[] shown = new float[scale.codes()];
    for (int code = 0; code < shown.length; code++) {
      shown[code] =
          store.form().rendered()
              ? (float) code / (shown.length - 1)
              : (float) ToneResponse.linearToSrgb(Math.max(0, Math.min(1, scale.light(code))));
    }
    return shown;
  }

  static BufferedImage image(Plane[] planes) {
    int width = planes[0].width();
    int height = planes[0].height();
    BufferedImage image = new BufferedImage(width, height, BufferedImage.TYPE_3BYTE_BGR);
    byte[] bytes = ((DataBufferByte) image.getRaster().getDataBuffer()).getData();
    for (int p = 0; p < width * height; p++) {
      for (int c = 0; c < 3; c++) {
        float value = planes[c].values()[p];
        bytes[3 * p + 2 - c] = (byte) Math.round(255 * Math.max(0, Math.min(1, value)));
      }
    }
    return image;
  }
}

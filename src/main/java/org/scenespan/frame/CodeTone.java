package org.scenespan.frame;

import java.util.List;

/**
 * What the 8-bit codes of a picture stand for: each channel's response and what each adds to
 * luminance. Immutable, and safe for several threads.
 */
public final class CodeTone {
  private static final int CODES = 256;

  public static final CodeTone SRGB = of(ColourSpace.SRGB);

  private final ColourSpace space;
  private final List<ToneResponse> responses;
  private final boolean measured;

  /** Half a megabyte: made when a picture is first counted by this tone, and kept with it. */
  private CodeLuminance luminances;

  private CodeTone(ColourSpace space, List<ToneResponse> responses, boolean measured) {
    if (responses.size() != 3) {
      throw new IllegalArgumentException("responses (" + responses.size() + ") must be 3");
    }
    for (ToneResponse response : responses) {
      if (response.codes() != CODES) {
        throw new IllegalArgumentException("codes (" + response.codes() + ") must be " + CODES);
      }
    }
    this.space = space;
    this.responses = List.copyOf(responses);
    this.measured = measured;
  }

  /** As a colour space has it. */
  public static CodeTone of(ColourSpace space) {
    return of(space, space.response(8));
  }

  static CodeTone of(ColourSpace space, ToneResponse all) {
    return new CodeTone(space, List.of(all, all, all), false);
  }

  /** As a camera's measurement has it. */
  public static CodeTone of(ColourSpace space, CameraProfile camera) {
    return new CodeTone(
        space, camera.channels().stream().map(CameraProfile.Channel::response).toList(), true);
  }

  /** Whose channels they are. */
  public ColourSpace space() {
    return space;
  }

  /** Whether the responses are the camera's own, measured, and not those of the space. */
  public boolean measured() {
    return measured;
  }

  synchronized CodeLuminance luminances() {
    if (luminances == null) {
      luminances = new CodeLuminance(this);
    }
    return luminances;
  }

  double red(int code) {
    return responses.get(0).linear(code);
  }

  double green(int code) {
    return responses.get(1).linear(code);
  }

  double blue(int code) {
    return responses.get(2).linear(code);
  }

  /** The most light that any channel has at a code. */
  double most(int code) {
    return Math.max(red(code), Math.max(green(code), blue(code)));
  }

  /**
   * Luminance of the means of some pixels' codes. The mean of codes is not the code of the mean
   * light; but where a tone curve is near a power of light, as every one is, the ratio between two
   * frames is that of their light all the same.
   */
  public double luminance(double red, double green, double blue) {
    return space.luminance(
        light(responses.get(0), red),
        light(responses.get(1), green),
        light(responses.get(2), blue));
  }

  private static double light(ToneResponse response, double code) {
    int below = (int) Math.min(CODES - 2, code);
    double part = code - below;
    return response.linear(below) * (1 - part) + response.linear(below + 1) * part;
  }
}

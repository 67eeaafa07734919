package org.scenespan.frame;

/** What the codes of a tone add to luminance: the same for every picture of that tone. */
final class CodeLuminance {
  private static final int CODES = PixelMeter.CODES;

  final double[] red = new double[CODES];
  final double[] green = new double[CODES];
  final double[] blue = new double[CODES];

  /** Of each pair of codes of red and blue, the blue one in the lower bits. */
  final double[] redBlue = new double[PackedPixel.PAIRS];

  CodeLuminance(CodeTone tone) {
    for (int code = 0; code < CODES; code++) {
      red[code] = tone.space().red() * tone.red(code);
      green[code] = tone.space().green() * tone.green(code);
      blue[code] = tone.space().blue() * tone.blue(code);
    }
    for (int pair = 0; pair < redBlue.length; pair++) {
      redBlue[pair] = red[pair / CODES] + blue[pair % CODES];
    }
  }
}

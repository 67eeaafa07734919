package org.scenespan.frame;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertSame;

import org.junit.jupiter.api.Test;

class CodeToneTest {
  /**
   * Adobe RGB's weights, see {@link ColourSpace#ADOBE_RGB}; each channel alone, to the last bit.
   */
  @Test
  void addsUpToLuminanceAndIsWorkedOutOnce() {
    CodeTone tone = CodeTone.of(ColourSpace.ADOBE_RGB);
    CodeLuminance luminance = tone.luminances();
    for (int code = 0; code < 256; code++) {
      double light = Math.pow(code / 255.0, 563.0 / 256);
      assertEquals(0.29734 * light, luminance.red[code]);
      assertEquals(0.62737 * light, luminance.green[code]);
      assertEquals(0.07529 * light, luminance.blue[code]);
      for (int blue = 0; blue < 256; blue++) {
        double both = luminance.red[code] + luminance.blue[blue];
        assertEquals(both, luminance.redBlue[code << 8 | blue]);
      }
    }
    assertSame(luminance, tone.luminances());
  }
}

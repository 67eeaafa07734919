package org.scenespan.dashboard;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.google.zxing.BinaryBitmap;
import com.google.zxing.RGBLuminanceSource;
import com.google.zxing.common.GlobalHistogramBinarizer;
import com.google.zxing.qrcode.QRCodeReader;
import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class QrDrawingTest {
  /** Pixels to a module, as a camera would see it. */
  private static final int SCALE = 4;

  @ParameterizedTest
  @ValueSource(
      strings = {"http://192.0.2.7:40123/#01234567", "http://[2001:db8::7]:8080/#99999999"})
  void isReadBackFromItsCharacters(String text) throws Exception {
    Invitation invitation =
        new Invitation(
            List.of(text.substring(0, text.indexOf('#'))),
            text.substring(text.indexOf('#') + 1),
            "00000000");
    List<String> lines = invitation.drawing();
    assertTrue(lines.get(0).length() <= 80, "fits a terminal: " + lines.get(0).length());
    assertEquals(text, read(lines));
  }

  private static String read(List<String> lines) throws Exception {
    int width = lines.get(0).length() * SCALE;
    int height = lines.size() * 2 * SCALE;
    int[] pixels = new int[width * height];
    for (int y = 0; y < height; y++) {
      String line = lines.get(y / SCALE / 2);
      for (int x = 0; x < width; x++) {
        char drawn = line.charAt(x / SCALE);
        boolean light = drawn == '█' || drawn == (y / SCALE % 2 == 0 ? '▀' : '▄');
        pixels[y * width + x] = light ? 0xFFFFFF : 0;
      }
    }
    assertTrue(Arrays.stream(pixels).anyMatch(pixel -> pixel == 0));
    return new QRCodeReader()
        .decode(
            new BinaryBitmap(
                new GlobalHistogramBinarizer(new RGBLuminanceSource(width, height, pixels))))
        .getText();
  }
}

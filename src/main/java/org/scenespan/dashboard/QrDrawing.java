package org.scenespan.dashboard;

import com.google.zxing.BarcodeFormat;
import com.google.zxing.EncodeHintType;
import com.google.zxing.WriterException;
import com.google.zxing.common.BitMatrix;
import com.google.zxing.qrcode.QRCodeWriter;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;

/**
 * A QR code (ISO/IEC 18004) in a terminal: half blocks, two modules to a character, since a
 * character is about twice as high as wide. Light modules are the drawn ones, right where the
 * terminal writes light on dark.
 */
final class QrDrawing {
  /** The light border that a reader needs, modules: ISO/IEC 18004, section on the quiet zone. */
  private static final int QUIET_MODULES = 4;

  private QrDrawing() {}

  /** The modules with their light border, a string a row: 1 is dark, 0 is light. */
  static List<String> rows(String text) {
    BitMatrix dark = modules(text);
    List<String> rows = new ArrayList<>();
    for (int y = 0; y < dark.getHeight(); y++) {
      StringBuilder row = new StringBuilder();
      for (int x = 0; x < dark.getWidth(); x++) {
        row.append(dark.get(x, y) ? '1' : '0');
      }
      rows.add(row.toString());
    }
    return rows;
  }

  private static BitMatrix modules(String text) {
    try {
      return new QRCodeWriter()
          .encode(text, BarcodeFormat.QR_CODE, 0, 0, Map.of(EncodeHintType.MARGIN, QUIET_MODULES));
    } catch (WriterException e) {
      throw new IllegalArgumentException("text of " + text.length() + " is too long to draw", e);
    }
  }

  static List<String> lines(String text) {
    BitMatrix dark = modules(text);
    List<String> lines = new ArrayList<>();
    for (int y = 0; y < dark.getHeight(); y += 2) {
      StringBuilder line = new StringBuilder();
      for (int x = 0; x < dark.getWidth(); x++) {
        boolean upper = !dark.get(x, y);
        // The last row of an odd number has nothing below it.
        boolean lower = y + 1 < dark.getHeight() && !dark.get(x, y + 1);
        line.append(upper ? (lower ? '█' : '▀') : (lower ? '▄' : ' '));
      }
      lines.add(line.toString());
    }
    return lines;
  }
}

package org.scenespan.light;

/** Reads a plain decimal number and refuses everything else that Java would let through. */
final class Numbers {
  private Numbers() {}

  static double parse(String digits, String expected, String whole) {
    // Double.parseDouble would take "NaN", "0x1p3" and "1d", none of which a photographer means.
    if (!digits.matches("[+-]?(\\d+(\\.\\d*)?|\\.\\d+)([eE][+-]?\\d{1,3})?")) {
      throw new IllegalArgumentException("\"" + whole + "\" is not " + expected);
    }
    return Double.parseDouble(digits);
  }
}

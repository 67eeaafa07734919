package org.scenespan.rehearsal;

import java.util.ArrayDeque;

/** The trigger's errors, oldest first (SCPI-1999, volume 2, chapter 21). */
final class ErrorQueue {
  static final String NONE = "0,\"No error\"";
  static final String MISSING_PARAMETER = "-109,\"Missing parameter\"";
  static final String UNDEFINED_HEADER = "-113,\"Undefined header\"";
  static final String INIT_IGNORED = "-213,\"Init ignored\"";
  static final String OUT_OF_RANGE = "-222,\"Data out of range\"";
  static final String ILLEGAL_VALUE = "-224,\"Illegal parameter value\"";
  static final String MASS_STORAGE = "-250,\"Mass storage error\"";
  static final String OVERFLOW = "-350,\"Queue overflow\"";
  static final String INPUT_OVERRUN = "-363,\"Input buffer overrun\"";

  /** Errors that are kept; the one that finds no room is told as an overflow. */
  static final int MOST_ERRORS = 20;

  private final ArrayDeque<String> errors = new ArrayDeque<>();

  void add(String error) {
    if (errors.size() == MOST_ERRORS) {
      errors.removeLast();
      errors.addLast(OVERFLOW);
    } else {
      errors.addLast(error);
    }
  }

  /** Takes the oldest out, or says that there is none. */
  String take() {
    return errors.isEmpty() ? NONE : errors.removeFirst();
  }

  void clear() {
    errors.clear();
  }
}

package org.scenespan.trigger;

/** A control line of a serial port that the host drives (TIA-232-F names). */
public enum ModemLine {
  /** Request to send. */
  RTS,
  /** Data terminal ready. */
  DTR
}

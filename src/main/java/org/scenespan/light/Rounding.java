package org.scenespan.light;

/** Which settable value stands for one that cannot be set exactly. */
public enum Rounding {
  /** The nearest that gives no more light. */
  DARKER,
  /** The nearest that gives no less light. */
  BRIGHTER,
  /** The nearest. */
  NEAREST
}

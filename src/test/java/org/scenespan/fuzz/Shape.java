package org.scenespan.fuzz;

import java.util.List;
import java.util.SplittableRandom;

/** Changes an input where its form says that a change matters, and leaves the rest as it was. */
interface Shape {
  /** Nothing is known of the form: nothing is changed. */
  Shape NONE = (bytes, random, seeds) -> bytes;

  /**
   * Values at the edges of what fields of 8 to 32 bits hold, or of what a picture's size may be.
   */
  int[] EDGES = {
    0,
    1,
    2,
    3,
    4,
    7,
    8,
    9,
    15,
    16,
    17,
    127,
    128,
    255,
    256,
    257,
    32767,
    32768,
    65500,
    65535,
    65536,
    1_000_000,
    0x0fffffff,
    0x40000000,
    0x7fffffff,
    0x80000000,
    -1,
    -2,
    -8,
    -12
  };

  /**
   * @param bytes may be changed in place
   * @param seeds of the same form, to take pieces from
   */
  byte[] changed(byte[] bytes, SplittableRandom random, List<byte[]> seeds);

  /** One of the edges, or now and then any number. */
  static int edge(SplittableRandom random) {
    return random.nextInt(6) == 0 ? random.nextInt() : EDGES[random.nextInt(EDGES.length)];
  }
}

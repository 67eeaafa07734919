package org.scenespan.fuzz;

import java.util.List;

/** Something that reads what others wrote. */
interface Target extends AutoCloseable {
  List<byte[]> seeds();

  List<String> words();

  /** Half of the changes are made by it. */
  default Shape shape() {
    return Shape.NONE;
  }

  /** Reads an input; throws only where the reader breaks its promise. */
  void feed(byte[] input) throws Exception;

  @Override
  default void close() {}
}

package org.scenespan.proof;

/** Is told how far a long work has come. */
public interface Progress {
  /**
   * @param step what is being done, in words
   * @param share of all the work that is done, 0 to 1
   */
  void at(String step, double share);
}

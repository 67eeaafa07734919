package org.scenespan.rehearsal;

final class RidgeScene {
  Radiance draw() {
    return new Radiance(1, new float[][] {{1, 1, 1}});
  }
}

package org.scenespan.house.planted.attic;

/** Planted: a class in a room that no table knows. */
public final class Lost {
  private Lost() {}
}

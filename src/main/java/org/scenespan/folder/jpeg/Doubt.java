package org.scenespan.folder.jpeg;

/** The file may be damaged or is of a kind that is not decoded here; the plain path decides. */
final class Doubt extends RuntimeException {
  private static final long serialVersionUID = 1L;

  Doubt(String reason) {
    super(reason, null, false, false);
  }
}

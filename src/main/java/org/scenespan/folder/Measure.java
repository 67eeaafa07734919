package org.scenespan.folder;

/** Which file of a shutter press is measured where the camera writes both. */
public enum Measure {
  JPEG,
  RAW,
  /** The JPEG at once, for a first answer, and the raw file in its place when it comes. */
  JPEG_THEN_RAW
}

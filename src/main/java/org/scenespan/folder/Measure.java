package org.scenespan.folder;

/** Which file of a shutter press is measured where the camera writes both. */
public enum Measure {
  JPEG,
  RAW
}

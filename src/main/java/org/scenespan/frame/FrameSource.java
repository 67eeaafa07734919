package org.scenespan.frame;

/** Which of a file's pictures was measured. */
public enum FrameSource {
  /** The picture itself, every pixel of it. */
  FULL("full"),
  /** A preview that stands in for raw data which cannot be read. */
  EMBEDDED_PREVIEW("embedded-preview"),
  /** The sensor's own data. */
  RAW("raw");

  private final String label;

  FrameSource(String label) {
    this.label = label;
  }

  /** The word for it in JSON. */
  public String label() {
    return label;
  }
}

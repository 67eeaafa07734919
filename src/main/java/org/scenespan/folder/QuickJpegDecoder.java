package org.scenespan.folder;

import java.io.UncheckedIOException;
import org.scenespan.folder.jpeg.BaselineDecoder;
import org.scenespan.folder.jpeg.RowSink;

/** Takes the decoder of our own where it is sure of the file, and the plain path elsewhere. */
final class QuickJpegDecoder implements JpegDecoder {
  private final BaselineDecoder baseline;
  private final JpegDecoder plain = new PlainJpegDecoder();

  QuickJpegDecoder() {
    this(new BaselineDecoder());
  }

  /**
   * @param threads 1 or more, the caller's among them
   */
  QuickJpegDecoder(int threads) {
    this(new BaselineDecoder(threads));
  }

  private QuickJpegDecoder(BaselineDecoder baseline) {
    this.baseline = baseline;
  }

  @Override
  public void decode(JpegFile file, RowSink sink) throws UnreadableFrame {
    boolean refused;
    try {
      refused = isRefused(file, sink);
    } catch (UncheckedIOException e) {
      throw new UnreadableFrame("the file cannot be read: " + e.getMessage(), e);
    }
    if (refused) {
      plain.decode(file, sink);
    }
  }

  private boolean isRefused(JpegFile file, RowSink sink) {
    int scan = (int) file.structure().firstScan();
    int end = (int) file.structure().end();
    return baseline
        .decode(file.decoderHeader(), file.start(), scan, end, file::read, sink)
        .isPresent();
  }
}

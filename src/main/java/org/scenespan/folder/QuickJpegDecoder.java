package org.scenespan.folder;

import org.scenespan.folder.jpeg.BaselineDecoder;
import org.scenespan.folder.jpeg.RowSink;

/** Takes the decoder of our own where it is sure of the file, and the plain path elsewhere. */
final class QuickJpegDecoder implements JpegDecoder {
  private final BaselineDecoder baseline = new BaselineDecoder();
  private final JpegDecoder plain = new PlainJpegDecoder();

  @Override
  public void decode(JpegFile file, RowSink sink) throws UnreadableFrame {
    boolean refused =
        baseline
            .decode(
                file.decoderHeader(),
                file.bytes(),
                (int) file.structure().firstScan(),
                (int) file.structure().end(),
                sink)
            .isPresent();
    if (refused) {
      plain.decode(file, sink);
    }
  }
}

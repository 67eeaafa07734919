package org.scenespan.folder;

import java.io.IOException;
import javax.imageio.stream.ImageInputStreamImpl;

/** An open file for a reader of metadata; closing it leaves the file open. */
final class BytesImageStream extends ImageInputStreamImpl {
  private final Bytes bytes;

  BytesImageStream(Bytes bytes) {
    this.bytes = bytes;
  }

  @Override
  public int read() throws IOException {
    bitOffset = 0;
    return streamPos < bytes.size() ? bytes.u8(streamPos++) : -1;
  }

  @Override
  public int read(byte[] into, int offset, int length) throws IOException {
    bitOffset = 0;
    if (streamPos >= bytes.size()) {
      return -1;
    }
    int count = (int) Math.min(length, bytes.size() - streamPos);
    bytes.read(streamPos, into, offset, count);
    streamPos += count;
    return count;
  }

  @Override
  public long length() {
    return bytes.size();
  }
}

package org.scenespan.folder;

import java.nio.ByteBuffer;
import java.nio.channels.NonWritableChannelException;
import java.nio.channels.SeekableByteChannel;

/** Bytes in memory as a file that can be read. */
final class MemoryChannel implements SeekableByteChannel {
  private final ByteBuffer bytes;

  MemoryChannel(byte[] bytes) {
    this.bytes = ByteBuffer.wrap(bytes).asReadOnlyBuffer();
  }

  @Override
  public int read(ByteBuffer into) {
    if (!bytes.hasRemaining()) {
      return into.hasRemaining() ? -1 : 0;
    }
    int count = Math.min(into.remaining(), bytes.remaining());
    into.put(bytes.slice(bytes.position(), count));
    bytes.position(bytes.position() + count);
    return count;
  }

  @Override
  public long position() {
    return bytes.position();
  }

  @Override
  public SeekableByteChannel position(long position) {
    bytes.position((int) Math.min(bytes.limit(), position));
    return this;
  }

  @Override
  public long size() {
    return bytes.limit();
  }

  @Override
  public int write(ByteBuffer from) {
    throw new NonWritableChannelException();
  }

  @Override
  public SeekableByteChannel truncate(long size) {
    throw new NonWritableChannelException();
  }

  @Override
  public boolean isOpen() {
    return true;
  }

  @Override
  public void close() {
    // Nothing to let go of.
  }
}

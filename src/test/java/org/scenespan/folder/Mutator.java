package org.scenespan.folder;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.util.Arrays;
import java.util.Random;

/**
 * Damages whole files in ways that their structure makes likely to matter: fields of a TIFF
 * directory, lengths and markers, single bits, cuts, pieces copied over others.
 */
final class Mutator {
  private static final int[] EDGES = {
    0,
    1,
    2,
    3,
    4,
    7,
    8,
    9,
    15,
    16,
    17,
    31,
    32,
    33,
    127,
    128,
    255,
    256,
    32767,
    32768,
    65535,
    65536,
    0x7fffffff,
    0x80000000,
    -1,
    -8,
    1_000_000
  };

  private final Random random;

  Mutator(long seed) {
    this.random = new Random(seed);
  }

  byte[] mutated(byte[] whole) {
    byte[] file = whole.clone();
    for (int i = 1 + random.nextInt(3); i > 0; i--) {
      file = once(file);
    }
    return file;
  }

  private byte[] once(byte[] file) {
    if (file.length < 16) {
      return file;
    }
    switch (random.nextInt(8)) {
      case 0, 1, 2 -> field(file);
      case 3 -> file[random.nextInt(file.length)] ^= (byte) (1 << random.nextInt(8));
      case 4 -> file[random.nextInt(Math.min(64, file.length))] = (byte) random.nextInt();
      case 5 -> {
        return Arrays.copyOf(file, random.nextInt(file.length));
      }
      case 6 -> {
        int length = 1 + random.nextInt(16);
        int from = random.nextInt(file.length - length + 1);
        System.arraycopy(file, from, file, random.nextInt(file.length - length + 1), length);
      }
      default -> {
        int at = random.nextInt(file.length - 4);
        ByteBuffer.wrap(file).order(order(file)).putInt(at, edge());
      }
    }
    return file;
  }

  private int edge() {
    return random.nextInt(4) == 0 ? random.nextInt() : EDGES[random.nextInt(EDGES.length)];
  }

  private static ByteOrder order(byte[] file) {
    return file[0] == 'M' ? ByteOrder.BIG_ENDIAN : ByteOrder.LITTLE_ENDIAN;
  }

  /** A tag, type, count or value of the first directory, as far as it is a TIFF. */
  private void field(byte[] file) {
    ByteBuffer buffer = ByteBuffer.wrap(file).order(order(file));
    int start = buffer.getInt(4);
    if (!(start >= 8 && start <= file.length - 2)) {
      return;
    }
    int count = buffer.getShort(start) & 0xffff;
    int entry = start + 2 + 12 * (count == 0 ? 0 : random.nextInt(count));
    if (entry > file.length - 12) {
      return;
    }
    switch (random.nextInt(6)) {
      case 0 -> buffer.putShort(entry + 2, (short) (1 + random.nextInt(13)));
      case 1 -> buffer.putInt(entry + 4, edge());
      case 2 -> buffer.putShort(entry, (short) edge());
      case 3 -> buffer.putShort(entry + 8, (short) edge());
      default -> buffer.putInt(entry + 8, edge());
    }
  }
}

package org.scenespan.folder.jpeg;

import java.lang.invoke.MethodHandles;
import java.lang.invoke.VarHandle;
import java.nio.ByteOrder;

/**
 * Reads the Huffman codes of blocks (T.81, F.2.2) from a payload. Not for sharing between threads.
 */
final class BlockDecoder {
  private static final VarHandle LONG =
      MethodHandles.byteArrayViewVarHandle(long[].class, ByteOrder.BIG_ENDIAN);

  private static final int BLOCK = 64;
  private static final int LOOK = 64 - HuffmanTable.LOOKUP_BITS;
  private static final int BROKEN = -1;

  /** Whole entries have 12 bits at most, and a load has 57 at least. */
  private static final int CODES_TO_A_LOAD = 4;

  private final Layout layout;
  private final int blocksPerMcu;
  private final int[] dc = new int[3];

  BlockDecoder(Layout layout) {
    this.layout = layout;
    this.blocksPerMcu = layout.blocksPerMcu();
  }

  /**
   * Decodes a part that has no restart markers, from one of its bits to behind its own end. The
   * start may be a guess: a block that breaks off is followed by another guess one bit further.
   */
  void decode(Chunk chunk, Payload payload, int bit, int ownBits) {
    int payloadBits = payload.length() * 8;
    forget();
    int at = bit;
    int phase = chunk.firstPhase;
    while (at < ownBits) {
      at = block(chunk, payload, at, payloadBits, phase);
      phase = phase + 1 == blocksPerMcu ? 0 : phase + 1;
    }
  }

  /**
   * Decodes from a true start of a block until a block starts where one of another chunk does, or
   * to behind that chunk's end.
   *
   * @return the block of the other chunk that was met, or its number of blocks
   */
  int decodeUntilMet(Chunk chunk, Chunk other, int bit) {
    int payloadBits = other.payload.length() * 8;
    forget();
    int at = bit;
    int phase = chunk.firstPhase;
    int candidate = 0;
    while (at < other.ownBits) {
      while (candidate < other.blocks && other.firstBit[candidate] < at) {
        candidate++;
      }
      if (candidate < other.blocks
          && other.firstBit[candidate] == at
          && other.phaseOf(candidate, blocksPerMcu) == phase) {
        return candidate;
      }
      at = block(chunk, other.payload, at, payloadBits, phase);
      phase = phase + 1 == blocksPerMcu ? 0 : phase + 1;
    }
    return other.blocks;
  }

  /** Decodes the units of one restart interval; true starts only. */
  int interval(Chunk chunk, Payload payload, int bit, int endBits, int units) {
    forget();
    int at = bit;
    for (long i = 0; i < (long) units * blocksPerMcu && at < endBits; i++) {
      at = block(chunk, payload, at, endBits, (int) (i % blocksPerMcu));
    }
    return at;
  }

  private void forget() {
    dc[0] = 0;
    dc[1] = 0;
    dc[2] = 0;
  }

  /** Decodes a block and answers where the next one starts. */
  private int block(Chunk chunk, Payload payload, int bit, int payloadBits, int phase) {
    chunk.reserve();
    int component = layout.componentOf()[phase];
    int first = chunk.firstToken[chunk.blocks];
    chunk.firstBit[chunk.blocks] = bit;
    long end =
        coefficients(
            payload.bytes(),
            bit,
            layout.dcOf()[phase],
            layout.acOf()[phase],
            chunk.tokens,
            first,
            component);
    int next = (int) end;
    int tokens = (int) (end >>> 32);
    if (end == BROKEN || next > payloadBits) {
      if (bit <= payloadBits - 8) {
        chunk.lastBroken = chunk.blocks;
      } else if (chunk.firstFiller < 0) {
        chunk.firstFiller = chunk.blocks;
      }
      chunk.tokens[first] = dc[component] << 16;
      next = bit + 1;
      tokens = first + 1;
    }
    chunk.blocks++;
    chunk.firstToken[chunk.blocks] = tokens;
    chunk.firstBit[chunk.blocks] = next;
    return next;
  }

  /**
   * @return the end in the coefficients (upper half) and in the bits (lower half), or {@link
   *     #BROKEN}
   */
  private long coefficients(
      byte[] bytes,
      int bit,
      HuffmanTable dcTable,
      HuffmanTable acTable,
      int[] tokens,
      int first,
      int component) {
    int[] ac = acTable.entries();
    int at = bit;
    long bits = bitsFrom(bytes, at);
    int entry = dcTable.entries()[(int) (bits >>> LOOK)];
    if ((entry & HuffmanTable.PARTIAL) != 0) {
      entry = dcTable.resolved(bits, entry);
      if (entry == 0) {
        return BROKEN;
      }
    }
    at += entry & HuffmanTable.DROP;
    dc[component] += entry >> 16;
    tokens[first] = dc[component] << 16;
    int token = first + 1;
    int place = 1;
    // Few variables, so that the compiler keeps them in registers: the bits are loaded anew, and
    // the end of a block is taken for a coefficient at first.
    do {
      bits = bitsFrom(bytes, at);
      for (int i = 0; i < CODES_TO_A_LOAD && place < BLOCK; i++) {
        entry = ac[(int) (bits >>> LOOK)];
        if ((entry & HuffmanTable.PARTIAL) != 0) {
          bits = bitsFrom(bytes, at);
          entry = acTable.resolved(bits, entry);
          if (entry == 0) {
            return BROKEN;
          }
          at += entry & HuffmanTable.DROP;
          place += entry >> HuffmanTable.ADVANCE_SHIFT & HuffmanTable.ADVANCE;
          if ((entry & HuffmanTable.PARTIAL) == 0) {
            tokens[token++] = entry & 0xffff0000 | place - 1 & 0xff;
          }
          // More bits than a lookup has are gone.
          break;
        }
        bits <<= entry;
        at += entry & HuffmanTable.DROP;
        place += entry >> HuffmanTable.ADVANCE_SHIFT & HuffmanTable.ADVANCE;
        tokens[token++] = entry & 0xffff0000 | place - 1 & 0xff;
      }
    } while (place < BLOCK);
    if (place > HuffmanTable.END_OF_BLOCK) {
      token--;
    } else if (place > BLOCK) {
      return BROKEN;
    }
    return (long) token << 32 | at;
  }

  /** The bits from a position on, from the top; at least 57 of them. */
  private static long bitsFrom(byte[] bytes, int bit) {
    return (long) LONG.get(bytes, bit >>> 3) << (bit & 7);
  }
}

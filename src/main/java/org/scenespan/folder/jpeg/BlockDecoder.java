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

  private static final int PAIR_LOOK = 64 - PairTable.LOOKUP_BITS;

  /** Pairs have 11 bits at most, and a load has 57 at least. */
  private static final int PAIRS_TO_A_LOAD = 5;

  private static final int UPPER_HALF = 0xffff0000;

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
    int[] pairs = acTable.pairs();
    int token = first + 1;
    int place = 1;
    // Few variables, so that the compiler keeps them in registers: the bits are loaded anew.
    do {
      bits = bitsFrom(bytes, at);
      int left = PAIRS_TO_A_LOAD;
      do {
        int pair = pairs[(int) (bits >>> PAIR_LOOK)];
        int second = place + (pair >>> PairTable.FIRST_SHIFT & PairTable.ADVANCE);
        if ((pair & PairTable.NOTHING) != 0 || second >= BLOCK) {
          // One alone; more bits than were looked at may be gone.
          entry = acTable.next(bitsFrom(bytes, at));
          int advance = entry >> HuffmanTable.ADVANCE_SHIFT & HuffmanTable.ADVANCE;
          at += entry & HuffmanTable.DROP;
          if (entry == 0) {
            return BROKEN;
          }
          if (advance == HuffmanTable.END_OF_BLOCK) {
            return (long) token << 32 | at;
          }
          place += advance;
          if ((entry & HuffmanTable.PARTIAL) == 0) {
            tokens[token++] = entry & UPPER_HALF | place - 1;
          }
          break;
        }
        bits <<= pair;
        at += pair & PairTable.DROP;
        // Both are written; where there is no second one, the next one is written over it.
        tokens[token] = pair >> PairTable.FIRST_DOWN & UPPER_HALF | second - 1;
        place = second + (pair >>> PairTable.SECOND_SHIFT & PairTable.ADVANCE);
        tokens[token + 1] =
            pair << PairTable.SECOND_UP >> PairTable.SECOND_DOWN & UPPER_HALF | place - 1;
        token += pair >>> PairTable.COUNT_SHIFT & PairTable.COUNT;
        if ((pair & PairTable.END) != 0) {
          return (long) token << 32 | at;
        }
      } while (--left > 0 && place < BLOCK);
    } while (place < BLOCK);
    return place > BLOCK ? BROKEN : (long) token << 32 | at;
  }

  /** The bits from a position on, from the top; at least 57 of them. */
  private static long bitsFrom(byte[] bytes, int bit) {
    return (long) LONG.get(bytes, bit >>> 3) << (bit & 7);
  }
}

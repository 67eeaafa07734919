package org.scenespan.fuzz;

import java.io.ByteArrayOutputStream;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.SplittableRandom;
import java.util.zip.CRC32;
import java.util.zip.DataFormatException;
import java.util.zip.Deflater;
import java.util.zip.Inflater;

/** The chunks of a PNG, with their check sums made right again (PNG, third edition, section 5). */
final class PngShape implements Shape {
  private static final int SIGNATURE_BYTES = 8;
  private static final int MOST_ROWS_BYTES = 1 << 20;

  /** A chunk's type and what is in it. */
  private record Chunk(String type, byte[] content) {}

  @Override
  public byte[] changed(byte[] bytes, SplittableRandom random, List<byte[]> seeds) {
    List<Chunk> chunks = chunks(bytes);
    if (chunks.isEmpty()) {
      return bytes;
    }
    int at = random.nextInt(chunks.size());
    Chunk chunk = chunks.get(at);
    byte[] content = chunk.content;
    switch (random.nextInt(9)) {
      case 0 -> chunks.remove(at);
      case 1 -> chunks.add(at, chunk);
      case 2 -> Collections.swap(chunks, at, random.nextInt(chunks.size()));
      case 3 -> {
        if (content.length > 0) {
          content[random.nextInt(content.length)] = (byte) Shape.edge(random);
        }
      }
      case 4, 5 -> header(chunks.get(0).content, random);
      case 6 -> chunks.set(at, new Chunk(chunk.type, rowsChanged(content, random)));
      case 7 -> {
        List<Chunk> other = chunks(seeds.get(random.nextInt(seeds.size())));
        if (!other.isEmpty()) {
          chunks.add(at, other.get(random.nextInt(other.size())));
        }
      }
      default ->
          chunks.set(
              at,
              new Chunk(chunk.type, Arrays.copyOf(content, random.nextInt(64 + content.length))));
    }
    return joined(bytes, chunks);
  }

  /** Width, height, depth, colour type, compression, filter, interlace. */
  private static void header(byte[] content, SplittableRandom random) {
    if (content.length >= 13) {
      int field = random.nextInt(7);
      if (field < 2) {
        ByteBuffer.wrap(content).putInt(4 * field, Shape.edge(random));
      } else {
        content[6 + field] = (byte) random.nextInt(18);
      }
    }
  }

  /** Another byte behind the compression, a filter's number perhaps. */
  private static byte[] rowsChanged(byte[] content, SplittableRandom random) {
    Inflater inflater = new Inflater();
    Deflater deflater = new Deflater(1);
    try {
      inflater.setInput(content);
      byte[] rows = new byte[MOST_ROWS_BYTES];
      int count = inflater.inflate(rows);
      if (count == 0) {
        return content;
      }
      rows[random.nextInt(count)] = (byte) Shape.edge(random);
      deflater.setInput(rows, 0, random.nextInt(4) == 0 ? random.nextInt(count) : count);
      deflater.finish();
      byte[] packed = new byte[2 * count + 64];
      return Arrays.copyOf(packed, deflater.deflate(packed));
    } catch (DataFormatException notPacked) {
      return content;
    } finally {
      inflater.end();
      deflater.end();
    }
  }

  private static List<Chunk> chunks(byte[] bytes) {
    List<Chunk> chunks = new ArrayList<>();
    int at = SIGNATURE_BYTES;
    while (at <= bytes.length - 12) {
      int length = ByteBuffer.wrap(bytes).getInt(at);
      if (length < 0 || length > bytes.length - 12 - at) {
        break;
      }
      String type = new String(bytes, at + 4, 4, StandardCharsets.ISO_8859_1);
      chunks.add(new Chunk(type, Arrays.copyOfRange(bytes, at + 8, at + 8 + length)));
      at += 12 + length;
    }
    return chunks;
  }

  private static byte[] joined(byte[] bytes, List<Chunk> chunks) {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    out.write(bytes, 0, SIGNATURE_BYTES);
    for (Chunk chunk : chunks) {
      byte[] type = chunk.type.getBytes(StandardCharsets.ISO_8859_1);
      CRC32 sum = new CRC32();
      sum.update(type);
      sum.update(chunk.content);
      out.writeBytes(ByteBuffer.allocate(4).putInt(chunk.content.length).array());
      out.writeBytes(type);
      out.writeBytes(chunk.content);
      out.writeBytes(ByteBuffer.allocate(4).putInt((int) sum.getValue()).array());
    }
    return out.toByteArray();
  }
}

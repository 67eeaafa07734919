package org.scenespan.fuzz;

import java.io.ByteArrayOutputStream;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.List;
import java.util.SplittableRandom;

/**
 * Changes valid input a little, in ways that its readers have to expect: bits, the corner values of
 * numbers, cuts, repeats, pieces of another input, words that mean something to the format, and
 * what its {@link Shape} knows.
 */
final class Mutator {
  /** Bigger inputs are no better tests, only slower ones. */
  private static final int MOST_BYTES = 1 << 20;

  private static final int[] CORNERS = {0, 1, 0x7f, 0x80, 0xff, 0x7fff, 0x8000, 0xffff};

  private static final List<String> NUMBERS =
      List.of(
          "0",
          "-1",
          "1e999",
          "-1e-999",
          "NaN",
          "2147483648",
          "9223372036854775808",
          "0x10",
          "1.",
          "\"\"",
          "null",
          "[]",
          "{}");

  private final SplittableRandom random;
  private final List<byte[]> seeds;
  private final List<String> words;
  private final Shape shape;

  /**
   * @param seeds valid inputs
   * @param words that mean something to the format
   * @param shape changes what has its form
   */
  Mutator(long seed, List<byte[]> seeds, List<String> words, Shape shape) {
    this.random = new SplittableRandom(seed);
    this.seeds = seeds;
    this.words = words;
    this.shape = shape;
  }

  byte[] next() {
    byte[] bytes = pick().clone();
    int changes = 1 + random.nextInt(1 + random.nextInt(8));
    // Half of them keep to the form alone, and get deeper.
    boolean formed = random.nextBoolean();
    for (int i = 0; i < changes; i++) {
      bytes =
          bytes.length > 0 && (formed || random.nextInt(4) == 0)
              ? shape.changed(bytes, random, seeds)
              : changed(bytes);
    }
    return bytes.length > MOST_BYTES ? Arrays.copyOf(bytes, MOST_BYTES) : bytes;
  }

  private byte[] pick() {
    return seeds.get(random.nextInt(seeds.size()));
  }

  private byte[] changed(byte[] bytes) {
    if (bytes.length == 0) {
      return pick().clone();
    }
    int at = place(bytes.length);
    int length = 1 + random.nextInt(Math.min(bytes.length - at, 64));
    switch (random.nextInt(9)) {
      case 0 -> bytes[at] ^= (byte) (1 << random.nextInt(8));
      case 1 -> bytes[at] = (byte) random.nextInt();
      case 2 -> corner(bytes, at);
      case 3 -> {
        return Arrays.copyOf(bytes, at);
      }
      case 4 -> {
        return spliced(bytes, at, at + length, new byte[0]);
      }
      case 5 -> {
        return spliced(bytes, at, at, Arrays.copyOfRange(bytes, at, at + length));
      }
      case 6 -> {
        byte[] other = pick();
        int from = random.nextInt(Math.max(1, other.length));
        return spliced(bytes, at, bytes.length, Arrays.copyOfRange(other, from, other.length));
      }
      case 7 -> {
        return spliced(bytes, at, at + (random.nextBoolean() ? length : 0), word());
      }
      default -> {
        return number(bytes, at);
      }
    }
    return bytes;
  }

  /** Headers come first and matter most. */
  private int place(int length) {
    return random.nextInt(random.nextBoolean() ? length : Math.min(length, 1024));
  }

  private void corner(byte[] bytes, int at) {
    int value = CORNERS[random.nextInt(CORNERS.length)];
    int width = 1 << random.nextInt(3);
    boolean big = random.nextBoolean();
    for (int i = 0; i < width && at + i < bytes.length; i++) {
      int shift = 8 * (big ? width - 1 - i : i);
      bytes[at + i] = (byte) (shift < 32 ? value >> shift : 0);
    }
  }

  private byte[] word() {
    String word = words.get(random.nextInt(words.size()));
    int times = random.nextInt(16) == 0 ? 1 + random.nextInt(2000) : 1;
    return word.repeat(times).getBytes(StandardCharsets.ISO_8859_1);
  }

  /** Puts another number in the place of the next one written in digits. */
  private byte[] number(byte[] bytes, int at) {
    int from = at;
    while (from < bytes.length && !isDigit(bytes[from])) {
      from++;
    }
    int to = from;
    while (to < bytes.length && (isDigit(bytes[to]) || bytes[to] == '.')) {
      to++;
    }
    String other = NUMBERS.get(random.nextInt(NUMBERS.size()));
    return spliced(bytes, from, to, other.getBytes(StandardCharsets.US_ASCII));
  }

  private static boolean isDigit(byte value) {
    return value >= '0' && value <= '9';
  }

  private static byte[] spliced(byte[] bytes, int from, int to, byte[] middle) {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    out.write(bytes, 0, from);
    out.writeBytes(middle);
    out.write(bytes, to, bytes.length - to);
    return out.toByteArray();
  }
}

package org.scenespan.fuzz;

import java.io.ByteArrayOutputStream;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.SplittableRandom;

/**
 * The marker segments of a JPEG in front of its first scan, the Exif among them, and markers in the
 * coded data (ITU-T T.81, annex B).
 */
final class JpegShape implements Shape {
  private static final int SOS = 0xda;
  private static final int[] MARKERS = {
    0xc0, 0xc1, 0xc2, 0xc3, 0xc4, 0xc9, 0xcc, 0xd0, 0xd7, 0xd8, 0xd9, 0xda, 0xdb, 0xdc, 0xdd, 0xe0,
    0xe1, 0xe2, 0xee, 0xfe, 0x01, 0xff, 0x00
  };

  private final TiffShape exif = new TiffShape();

  @Override
  public byte[] changed(byte[] bytes, SplittableRandom random, List<byte[]> seeds) {
    List<byte[]> parts = parts(bytes);
    if (parts.size() < 3) {
      return bytes;
    }
    // The first is the begin, the last is the scan with all behind it.
    int at = 1 + random.nextInt(parts.size() - 2);
    byte[] part = parts.get(at);
    switch (random.nextInt(12)) {
      case 0 -> parts.remove(at);
      case 1 -> parts.add(at, part.clone());
      case 2 -> Collections.swap(parts, at, 1 + random.nextInt(parts.size() - 2));
      case 3 -> part[1] = (byte) MARKERS[random.nextInt(MARKERS.length)];
      case 4 -> {
        int length = part.length - 2 + random.nextInt(-4, 5);
        put(part, 2, random.nextBoolean() ? length : Shape.edge(random));
      }
      case 5 -> {
        if (part.length > 4) {
          part[4 + random.nextInt(part.length - 4)] = (byte) Shape.edge(random);
        }
      }
      case 6 -> frameHeader(parts, random);
      case 7 -> {
        List<byte[]> other = parts(seeds.get(random.nextInt(seeds.size())));
        if (other.size() > 2) {
          parts.add(at, other.get(1 + random.nextInt(other.size() - 2)).clone());
        }
      }
      case 8 -> {
        byte[] scan = parts.get(parts.size() - 1);
        if (scan.length > 4) {
          int place = random.nextInt(scan.length - 2);
          scan[place] = (byte) 0xff;
          scan[place + 1] = (byte) MARKERS[random.nextInt(MARKERS.length)];
        }
      }
      case 9 -> {
        byte[] scan = parts.get(parts.size() - 1);
        if (scan.length > 4) {
          scan[random.nextInt(Math.min(scan.length, 16))] = (byte) Shape.edge(random);
        }
      }
      default -> {
        return exif.changed(bytes, random, seeds);
      }
    }
    return joined(parts);
  }

  /** Precision, height, width, components and their sampling. */
  private static void frameHeader(List<byte[]> parts, SplittableRandom random) {
    for (byte[] part : parts) {
      boolean header = part.length > 10 && (part[1] & 0xf0) == 0xc0 && (part[1] & 0xff) != 0xc4;
      if (header) {
        switch (random.nextInt(4)) {
          case 0 -> put(part, 5, Shape.edge(random));
          case 1 -> put(part, 7, Shape.edge(random));
          case 2 -> part[4] = (byte) Shape.edge(random);
          default -> part[9 + random.nextInt(part.length - 9)] = (byte) Shape.edge(random);
        }
        return;
      }
    }
  }

  private static void put(byte[] part, int at, int value) {
    if (part.length >= at + 2) {
      part[at] = (byte) (value >> 8);
      part[at + 1] = (byte) value;
    }
  }

  private static List<byte[]> parts(byte[] bytes) {
    List<byte[]> parts = new ArrayList<>();
    int from = 0;
    int at = 2;
    while (at + 4 <= bytes.length && (bytes[at] & 0xff) == 0xff && (bytes[at + 1] & 0xff) != SOS) {
      parts.add(Arrays.copyOfRange(bytes, from, at));
      from = at;
      at += 2 + ((bytes[at + 2] & 0xff) << 8 | bytes[at + 3] & 0xff);
    }
    at = Math.min(at, bytes.length);
    parts.add(Arrays.copyOfRange(bytes, from, at));
    parts.add(Arrays.copyOfRange(bytes, at, bytes.length));
    return parts;
  }

  private static byte[] joined(List<byte[]> parts) {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    parts.forEach(out::writeBytes);
    return out.toByteArray();
  }
}

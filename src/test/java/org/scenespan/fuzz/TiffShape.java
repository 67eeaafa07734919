package org.scenespan.fuzz;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.SplittableRandom;

/**
 * The directories of a TIFF, DNG or Exif, wherever its header stands: tags, types, counts, values,
 * offsets that point at themselves, entries in the wrong place (TIFF 6.0, section 2).
 */
final class TiffShape implements Shape {
  /** Sub-directories, of Exif, of GPS and of interoperability. */
  private static final Set<Integer> POINTERS = Set.of(330, 34665, 34853, 40965);

  private static final int MOST_DIRECTORIES = 16;
  private static final int MOST_ENTRIES = 400;
  private static final int ENTRY_BYTES = 12;

  /** Where a header may stand: a file's begin, or behind the first segments of a JPEG. */
  private static final int LAST_HEADER = 4096;

  @Override
  public byte[] changed(byte[] bytes, SplittableRandom random, List<byte[]> seeds) {
    for (int at = 0; at < Math.min(LAST_HEADER, bytes.length - 8); at++) {
      boolean little = bytes[at] == 'I' && bytes[at + 1] == 'I' && bytes[at + 2] == 42;
      boolean big = bytes[at] == 'M' && bytes[at + 1] == 'M' && bytes[at + 3] == 42;
      if (little || big) {
        ByteBuffer tiff =
            ByteBuffer.wrap(bytes, at, bytes.length - at)
                .slice()
                .order(little ? ByteOrder.LITTLE_ENDIAN : ByteOrder.BIG_ENDIAN);
        change(tiff, random);
        return bytes;
      }
    }
    return bytes;
  }

  private static void change(ByteBuffer tiff, SplittableRandom random) {
    List<Integer> directories = new ArrayList<>();
    List<Integer> entries = new ArrayList<>();
    walk(tiff, directories, entries);
    if (entries.isEmpty()) {
      return;
    }
    int entry = entries.get(random.nextInt(entries.size()));
    int directory = directories.get(random.nextInt(directories.size()));
    int other = entries.get(random.nextInt(entries.size()));
    switch (random.nextInt(12)) {
      case 0 -> tiff.putShort(entry, tiff.getShort(other));
      case 1 -> tiff.putShort(entry + 2, (short) random.nextInt(15));
      case 2 -> tiff.putInt(entry + 4, edge(random));
      case 3 -> tiff.putShort(entry + 8, (short) edge(random));
      case 4 -> tiff.putInt(entry + 8, directory);
      case 5 -> tiff.putInt(entry + 8, tiff.getInt(other + 8));
      case 6 -> {
        for (int i = 0; i < ENTRY_BYTES; i++) {
          tiff.put(entry + i, tiff.get(other + i));
        }
      }
      case 7 -> tiff.putShort(directory, (short) edge(random));
      case 8 -> {
        int next = directory + 2 + ENTRY_BYTES * (tiff.getShort(directory) & 0xffff);
        if (next + 4 <= tiff.limit()) {
          tiff.putInt(next, directory);
        }
      }
      case 9 -> {
        // What a value's offset points at.
        int at = tiff.getInt(entry + 8);
        if (at >= 0 && at <= tiff.limit() - 4) {
          tiff.putInt(at, edge(random));
        }
      }
      case 10 -> tiff.putInt(entry + 8, tiff.limit() - random.nextInt(16));
      default -> tiff.putInt(entry + 8, edge(random));
    }
  }

  private static int edge(SplittableRandom random) {
    return Shape.edge(random);
  }

  private static void walk(ByteBuffer tiff, List<Integer> directories, List<Integer> entries) {
    Deque<Integer> open = new ArrayDeque<>(List.of(tiff.getInt(4)));
    Set<Integer> seen = new HashSet<>();
    while (!open.isEmpty() && directories.size() < MOST_DIRECTORIES) {
      int at = open.remove();
      if (at < 8 || at > tiff.limit() - 2 || !seen.add(at)) {
        continue;
      }
      directories.add(at);
      int count = tiff.getShort(at) & 0xffff;
      int entry = at + 2;
      for (int i = 0; i < count && entry <= tiff.limit() - ENTRY_BYTES; i++) {
        if (entries.size() < MOST_ENTRIES) {
          entries.add(entry);
        }
        if (POINTERS.contains(tiff.getShort(entry) & 0xffff)) {
          int target = tiff.getInt(entry + 8);
          open.add(target);
          // More than one: an array of them.
          if (target >= 8 && target <= tiff.limit() - 8 && tiff.getInt(entry + 4) > 1) {
            open.add(tiff.getInt(target));
            open.add(tiff.getInt(target + 4));
          }
        }
        entry += ENTRY_BYTES;
      }
      if (entry <= tiff.limit() - 4) {
        open.add(tiff.getInt(entry));
      }
    }
  }
}

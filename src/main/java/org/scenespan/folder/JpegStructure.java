package org.scenespan.folder;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;

/**
 * How a JPEG file is laid out (ITU-T T.81, annex B): what its header says and where its picture
 * ends. What follows the picture's own end, padding or further pictures, is left alone.
 *
 * @param header the segments before the first scan, in their order
 * @param firstScan position of the first start of scan, or −1 where there is none
 * @param end position behind the picture's end mark, or −1 where the mark is missing
 * @param scans how many scans the picture has
 */
record JpegStructure(
    int width,
    int height,
    int components,
    int precision,
    List<Segment> header,
    long firstScan,
    long end,
    int scans) {
  /** A baseline file has one, a usual progressive file ten; a thousand are an attack. */
  static final int MAX_SCANS = 64;

  /** As many scans as an encoder makes of any picture, whatever its size. */
  static final int USUAL_SCANS = 20;

  /** With more scans, the most pixels that are gone through in all: each scan is painted. */
  static final long MAX_PASSED_PIXELS = 500_000_000;

  private static final int MAX_SEGMENTS = 10_000;
  private static final int SOI = 0xd8;
  private static final int EOI = 0xd9;
  private static final int SOS = 0xda;

  /**
   * A marker segment.
   *
   * @param marker the byte after 0xff
   * @param position of the 0xff
   * @param length of marker, length field and content
   */
  record Segment(int marker, long position, int length) {
    /** Whether the content begins with a name and a zero. */
    boolean isNamed(String name, Bytes bytes) throws IOException {
      if (length < 4 + name.length() + 1) {
        return false;
      }
      for (int i = 0; i < name.length(); i++) {
        if (bytes.u8(position + 4 + i) != name.charAt(i)) {
          return false;
        }
      }
      return bytes.u8(position + 4 + name.length()) == 0;
    }
  }

  /** Walks the markers; of a file that is cut off, as far as it goes. */
  static JpegStructure of(Bytes bytes) throws IOException, UnreadableFrame {
    return new Walk(bytes).run();
  }

  boolean isWhole() {
    return end >= 0;
  }

  /** One pass over a file. */
  private static final class Walk {
    private final Bytes bytes;
    private final List<Segment> header = new ArrayList<>();
    private int width;
    private int height;
    private int components;
    private int precision;
    private long firstScan = -1;
    private int scans;
    private int segments;

    Walk(Bytes bytes) {
      this.bytes = bytes;
    }

    JpegStructure run() throws IOException, UnreadableFrame {
      if (bytes.size() < 4 || bytes.u8(0) != 0xff || bytes.u8(1) != SOI) {
        throw new UnreadableFrame("it is no JPEG: it does not begin with a start mark");
      }
      long position = 2;
      while (true) {
        position = nextMarker(position);
        if (position + 1 >= bytes.size()) {
          return ended(-1);
        }
        int marker = bytes.u8(position + 1);
        if (marker == EOI) {
          return ended(firstScan >= 0 ? position + 2 : -1);
        }
        if (isWithoutContent(marker)) {
          position += 2;
          continue;
        }
        if (position + 4 > bytes.size()) {
          return ended(-1);
        }
        int length = bytes.u16(position + 2) + 2;
        if (position + length > bytes.size()) {
          return ended(-1);
        }
        take(new Segment(marker, position, length));
        position += length;
      }
    }

    /** The next 0xff that a marker follows, over garbage, stuffed zeros and fill bytes. */
    private long nextMarker(long start) throws IOException {
      long position = start;
      while (true) {
        position = bytes.find(0xff, position);
        if (position + 1 >= bytes.size()) {
          return bytes.size();
        }
        int next = bytes.u8(position + 1);
        if (next == 0xff) {
          position++;
        } else if (next == 0) {
          position += 2;
        } else {
          return position;
        }
      }
    }

    private static boolean isWithoutContent(int marker) {
      boolean restart = marker >= 0xd0 && marker <= 0xd7;
      return restart || marker == SOI || marker == 0x01;
    }

    private void take(Segment segment) throws IOException, UnreadableFrame {
      if (++segments > MAX_SEGMENTS) {
        throw new UnreadableFrame("it has more than " + MAX_SEGMENTS + " segments");
      }
      int marker = segment.marker();
      if (marker == SOS) {
        if (firstScan < 0) {
          firstScan = segment.position();
        }
        if (++scans > MAX_SCANS) {
          throw new UnreadableFrame("it has more than " + MAX_SCANS + " scans");
        }
        if (scans > USUAL_SCANS && (long) width * height * scans > MAX_PASSED_PIXELS) {
          throw new UnreadableFrame("it has more than " + USUAL_SCANS + " scans for its size");
        }
        return;
      }
      if (isStartOfFrame(marker)) {
        takeSize(segment);
      }
      if (firstScan < 0) {
        header.add(segment);
      }
    }

    /** SOF0 to SOF15 without the tables DHT, JPG and DAC that lie among them. */
    private static boolean isStartOfFrame(int marker) {
      return marker >= 0xc0 && marker <= 0xcf && marker != 0xc4 && marker != 0xc8 && marker != 0xcc;
    }

    private void takeSize(Segment segment) throws IOException, UnreadableFrame {
      if (width > 0) {
        throw new UnreadableFrame("it states its size twice");
      }
      if (segment.length() < 10) {
        throw new UnreadableFrame("its start of frame is too short");
      }
      precision = bytes.u8(segment.position() + 4);
      height = bytes.u16(segment.position() + 5);
      width = bytes.u16(segment.position() + 7);
      components = bytes.u8(segment.position() + 9);
    }

    private JpegStructure ended(long end) {
      return new JpegStructure(
          width, height, components, precision, List.copyOf(header), firstScan, end, scans);
    }
  }
}

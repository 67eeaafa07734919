package org.scenespan.folder;

import java.io.IOException;
import java.util.List;
import java.util.Optional;
import org.scenespan.folder.codec.LosslessJpeg;
import org.scenespan.frame.FrameMeasure;
import org.scenespan.frame.Mosaic;
import org.scenespan.frame.MosaicMeter;

/** Measures a mosaic on two threads: its halves at the same time, or while it is unpacked. */
final class MosaicReading {
  /** Sites of a frame that is worth a second thread. */
  private static final long LARGE = 1 << 20;

  /** With fewer bands than this, halves would unpack some of them twice for nothing. */
  private static final int FEW_BANDS = 6;

  private final Bytes bytes;
  private final RawPicture picture;
  private final RawPicture.Area active;
  private final Mosaic mosaic;
  private final Optional<MosaicPainter> painter;
  private final UnpackedRows unpacked = new UnpackedRows();
  private int[] whole;

  MosaicReading(Bytes bytes, RawPicture picture, boolean drawn) {
    this.bytes = bytes;
    this.picture = picture;
    this.active = picture.active();
    this.mosaic = picture.mosaic().orElseThrow();
    this.painter =
        drawn
            ? Optional.of(new MosaicPainter(active.width() / 2, active.height() / 2, mosaic))
            : Optional.empty();
  }

  Optional<Preview> preview(int orientation) {
    return painter.map(drawn -> drawn.preview(orientation));
  }

  FrameMeasure measure() throws IOException, UnreadableFrame {
    RawBands bands = new RawBands(bytes, picture);
    long sites = (long) active.width() * active.height();
    if (sites < LARGE) {
      Half all = new Half(0, active.height());
      all.run();
      return all.meter.measure();
    }
    Optional<LosslessJpeg> alone = bands.wholePicture();
    if (alone.isPresent()) {
      return follow(alone.get(), bands);
    }
    if (bands.isCompressed() && bands.bands() < FEW_BANDS) {
      unpackWhole(bands);
    }
    int split = split(bands);
    Half upper = new Half(0, split);
    Half lower = new Half(split, active.height());
    Workers.both(upper::run, lower::run);
    return MosaicMeter.measure(List.of(upper.meter, lower.meter));
  }

  /** An even row of the active area near its middle, where a band begins if that can be. */
  private int split(RawBands bands) {
    int middle = active.top() + active.height() / 2;
    int start = bands.firstRow(bands.bandOf(middle));
    int split = start - active.top() & ~1;
    boolean near = split >= active.height() / 3;
    return near ? split : active.height() / 2 & ~1;
  }

  /** Codes can only be read in their order: what one thread has unpacked, the other measures. */
  private FrameMeasure follow(LosslessJpeg jpeg, RawBands bands)
      throws IOException, UnreadableFrame {
    int[] all = room(bands);
    whole = all;
    Half rows = new Half(0, active.height());
    Workers.both(() -> unpack(jpeg, all, bands.stride()), rows::run);
    return rows.meter.measure();
  }

  private void unpack(LosslessJpeg jpeg, int[] all, int stride) throws IOException {
    int rows = 0;
    try {
      jpeg.decodePairs(all, 0, stride, unpacked::reached);
      rows = jpeg.height();
    } finally {
      unpacked.end(rows);
    }
  }

  private static int[] room(RawBands bands) throws UnreadableFrame {
    long pairs = bands.allPairs();
    if (pairs * Integer.BYTES > Runtime.getRuntime().maxMemory() / 2) {
      throw new UnreadableFrame("it takes " + (pairs >> 18) + " MiB of memory to decode");
    }
    return new int[(int) pairs];
  }

  private void unpackWhole(RawBands bands) throws IOException, UnreadableFrame {
    int[] all = room(bands);
    int count = bands.bands();
    int half = (count + 1) / 2;
    // What was looked at of a single strip is read already, and not read again.
    Workers.both(
        () -> unpack(bands, all, 0, half),
        () -> unpack(new RawBands(bytes, picture), all, half, count));
    unpacked.end(picture.layout().height());
    whole = all;
  }

  private static void unpack(RawBands bands, int[] all, int from, int to) throws IOException {
    for (int band = from; band < to; band++) {
      bands.unpack(band, all, bands.firstRow(band) * bands.stride());
    }
  }

  /** Rows of the active area, from an even one on. */
  private final class Half {
    private final int from;
    private final int to;
    private final MosaicMeter meter;
    private final RawBands bands = new RawBands(bytes, picture);
    private final int stride = bands.stride();
    private final int left = active.left();
    private int[] band = new int[0];
    private int held = -1;

    Half(int from, int to) {
      this.from = from;
      this.to = to;
      this.meter = new MosaicMeter(active.width(), to - from, mosaic, from, active.height());
    }

    void run() throws IOException {
      byte[] flags = new byte[meter.columns()];
      int[] spare = new int[stride];
      int[][] moved = new int[2][meter.columns() + 1];
      Optional<MosaicPainter.Part> part = painter.map(all -> all.part(from / 2));
      for (int row = from; row + 1 < to; row += 2) {
        int upperAt = load(active.top() + row);
        int[] upper = band;
        if (whole == null && bands.bandOf(active.top() + row + 1) != held) {
          System.arraycopy(band, upperAt, spare, 0, stride);
          upper = spare;
          upperAt = 0;
        }
        int lowerAt = load(active.top() + row + 1);
        int[] lower = band;
        if ((left & 1) != 0) {
          move(upper, upperAt, moved[0]);
          move(lower, lowerAt, moved[1]);
          upper = moved[0];
          lower = moved[1];
          upperAt = 0;
          lowerAt = 0;
        } else {
          upperAt += left / 2;
          lowerAt += left / 2;
        }
        boolean any = measure(row, upper, upperAt, lower, lowerAt, flags);
        if (part.isPresent()) {
          part.get().row(upper, upperAt, lower, lowerAt, any, flags);
        }
      }
      part.ifPresent(MosaicPainter.Part::end);
    }

    /** Makes new pairs where the active area begins at the right site of a stored one. */
    private void move(int[] pairs, int at, int[] into) {
      int from = at + left / 2;
      int last = into.length - 1;
      for (int i = 0; i < last; i++) {
        into[i] = pairs[from + i] >>> 16 | pairs[from + i + 1] << 16;
      }
      into[last] = pairs[from + last] >>> 16;
    }

    /** Unpacks the band of a stored row if need be and answers where the row begins. */
    private int load(int row) throws IOException {
      if (whole != null) {
        unpacked.await(row);
        band = whole;
        return row * stride;
      }
      int wanted = bands.bandOf(row);
      if (wanted != held) {
        if (band.length == 0) {
          band = new int[bands.mostPairs()];
        }
        bands.unpack(wanted, band, 0);
        held = wanted;
      }
      return (row - bands.firstRow(wanted)) * stride;
    }

    private boolean measure(
        int row, int[] upper, int upperAt, int[] lower, int lowerAt, byte[] flags) {
      if (picture.levels().isSimple()) {
        return meter.pairRow(upper, upperAt, lower, lowerAt, flags);
      }
      return meter.lightRow(light(row, upper, upperAt), light(row + 1, lower, lowerAt), flags);
    }

    private double[] light(int row, int[] pairs, int at) {
      double[] light = new double[active.width()];
      for (int x = 0; x < light.length; x++) {
        light[x] = picture.levels().light(RawBands.site(pairs, at, x), row, x, 0);
      }
      return light;
    }
  }
}

package org.scenespan.proof;

import java.io.IOException;
import java.io.OutputStream;
import java.util.List;
import java.util.function.DoubleConsumer;
import java.util.stream.IntStream;

/** Merges strip after strip and writes the radiance and the maps as it goes. */
final class MergeFiles {
  /** Rows that are merged at once: at 61 megapixels, 4 MB of codes a frame. */
  private static final int STRIP_ROWS = 64;

  /** Lumens to a watt of equal-energy white, by which Radiance turns its unit into light. */
  private static final double EFFICACY = 179;

  private final List<FrameStore> stores;
  private final Merge merge;
  private final Movement movement;
  private final ProofMaps maps;
  private final double candela;
  private final int width;
  private final int height;
  private final short[][] codes;
  private final float[] radiance;
  private final float[] information;
  private final byte[] reached;
  private final byte[] flags;

  /**
   * @param stores in the order of the merge's frames
   * @param candela luminance of radiance 1
   */
  MergeFiles(List<FrameStore> stores, Merge merge, ProofMaps maps, double candela) {
    this.stores = stores;
    this.merge = merge;
    this.movement = new Movement(merge);
    this.maps = maps;
    this.candela = candela;
    this.width = stores.get(0).width();
    this.height = stores.get(0).height();
    this.codes = new short[stores.size()][3 * width * (STRIP_ROWS + 2)];
    this.radiance = new float[3 * width * STRIP_ROWS];
    this.information = new float[3 * width * STRIP_ROWS];
    this.reached = new byte[width * STRIP_ROWS];
    this.flags = new byte[width * STRIP_ROWS];
  }

  ProofMaps.Counts write(OutputFolder output, DoubleConsumer done) throws IOException {
    Legend snrLegend = ProofMaps.snrLegend(width, stores.size());
    Legend flagLegend = maps.flagLegend(width);
    ProofMaps.Counts counts = new ProofMaps.Counts();
    String unit = BracketProof.unit(candela);
    try (OutputStream hdrOut = output.create(BracketProof.HDR);
        OutputStream tiffOut = output.create(BracketProof.TIFF);
        OutputStream snrOut = output.create(BracketProof.SNR_MAP);
        OutputStream flagsOut = output.create(BracketProof.FLAG_MAP)) {
      RadianceWriter hdr =
          new RadianceWriter(hdrOut, width, height, EFFICACY / candela, List.of(unit));
      FloatTiffWriter tiff = new FloatTiffWriter(tiffOut, width, height, unit);
      PalettePng snrMap = map(snrOut, snrLegend, ProofMaps.snrPalette());
      PalettePng flagMap = map(flagsOut, flagLegend, ProofMaps.flagPalette());
      for (int top = 0; top < height; top += STRIP_ROWS) {
        int rows = Math.min(STRIP_ROWS, height - top);
        counts.add(strip(top, rows));
        for (int y = 0; y < rows; y++) {
          hdr.row(radiance, 3 * width * y);
          tiff.row(radiance, 3 * width * y);
          snrMap.row(reached, width * y);
          flagMap.row(flags, width * y);
        }
        done.accept((double) (top + rows) / height);
      }
      finish(snrMap, snrLegend);
      finish(flagMap, flagLegend);
    }
    return counts;
  }

  private PalettePng map(OutputStream out, Legend legend, int[] palette) throws IOException {
    return new PalettePng(out, width, height + legend.height(), palette, legend.text());
  }

  private void finish(PalettePng map, Legend legend) throws IOException {
    byte[] row = new byte[width];
    for (int y = 0; y < legend.height(); y++) {
      legend.row(y, row);
      map.row(row, 0);
    }
    map.end();
  }

  private ProofMaps.Counts strip(int top, int rows) throws IOException {
    int first = Math.max(0, top - 1);
    int end = Math.min(height, top + rows + 1);
    for (int j = 0; j < codes.length; j++) {
      stores.get(j).rows(first, end - first, codes[j]);
    }
    boolean[] moved = new boolean[width * (end - first)];
    movement.find(codes, width, end - first, moved);
    ProofMaps.Counts counts = new ProofMaps.Counts();
    IntStream.range(0, rows)
        .parallel()
        .mapToObj(
            y -> {
              int at = width * y;
              int source = width * (top - first + y);
              float[] rowRadiance = new float[3 * width];
              float[] rowInformation = new float[3 * width];
              merge.row(codes, 3 * source, width, rowRadiance, rowInformation);
              System.arraycopy(rowRadiance, 0, radiance, 3 * at, 3 * width);
              System.arraycopy(rowInformation, 0, information, 3 * at, 3 * width);
              return maps.row(radiance, information, moved, at, source, width, reached, flags);
            })
        .forEachOrdered(counts::add);
    return counts;
  }
}

package org.scenespan.folder;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.google.common.jimfs.Configuration;
import com.google.common.jimfs.Jimfs;
import java.io.IOException;
import java.nio.ByteOrder;
import java.nio.file.FileSystem;
import java.nio.file.Files;
import java.util.Arrays;
import java.util.List;
import java.util.function.UnaryOperator;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.scenespan.frame.FrameMeasure;
import org.scenespan.frame.FrameReading;
import org.scenespan.frame.Mosaic;
import org.scenespan.frame.MosaicMeter;
import org.scenespan.light.Shutter;

class RawPictureTest {
  private static final List<Double> BLACK = List.of(512.0, 512.0, 512.0, 512.0);

  private static FrameReading read(byte[] content) throws IOException, UnreadableFrame {
    try (FileSystem memory = Jimfs.newFileSystem(Configuration.unix())) {
      return new FrameReader().read(Files.write(memory.getPath("/a.dng"), content));
    }
  }

  private static FrameMeasure measured(int[][] sites, Mosaic mosaic) {
    MosaicMeter meter = new MosaicMeter(sites[0].length, sites.length, mosaic);
    for (int y = 0; y < meter.rows(); y++) {
      meter.blockRow(codes(sites[2 * y]), codes(sites[2 * y + 1]), new byte[meter.columns()]);
    }
    return meter.measure();
  }

  private static short[] codes(int[] row) {
    short[] codes = new short[row.length];
    for (int i = 0; i < row.length; i++) {
      codes[i] = (short) row[i];
    }
    return codes;
  }

  @ParameterizedTest
  @CsvSource({
    "8, true", "10, true", "12, true", "14, true", "16, true",
    "8, false", "10, false", "12, false", "14, false", "16, false"
  })
  void readsCodesOfEveryWidth(int bits, boolean big) throws Exception {
    ByteOrder order = big ? ByteOrder.BIG_ENDIAN : ByteOrder.LITTLE_ENDIAN;
    int most = (1 << bits) - 1;
    int[][] sites = Pictures.sites(26, 14, most, bits);
    byte[] data = Pictures.packed(sites, bits, order);
    byte[] dng =
        Pictures.dng(order, sites)
            .shorts(258, bits)
            .data(273, data)
            .longs(279, data.length)
            .without(50714)
            .without(50717)
            .file();
    FrameReading reading = read(dng);
    Mosaic mosaic = new Mosaic("RGGB", List.of(0.0, 0.0, 0.0, 0.0), most, bits);
    assertEquals(measured(sites, mosaic), reading.measure());
    assertEquals("dng", reading.format());
  }

  @Test
  void blackLevelsBySiteWhiteLevelAndPattern() throws Exception {
    int[][] sites = Pictures.sites(20, 12, 16383, 5);
    byte[] dng =
        Pictures.dng(ByteOrder.LITTLE_ENDIAN, sites)
            .bytes(33422, 2, 1, 1, 0)
            .shorts(50713, 2, 2)
            .rationals(50714, 512, 1, 1025, 2, 500, 1, 511, 1)
            .longs(50717, 15000)
            .file();
    Mosaic mosaic = new Mosaic("BGGR", List.of(512.0, 512.5, 500.0, 511.0), 15000, 16);
    assertEquals(measured(sites, mosaic), read(dng).measure());
  }

  @Test
  void onlyTheActiveAreaCounts() throws Exception {
    int[][] sites = Pictures.sites(20, 12, 16383, 6);
    byte[] dng = Pictures.dng(ByteOrder.BIG_ENDIAN, sites).longs(50829, 1, 3, 11, 18).file();
    int[][] active = new int[10][];
    for (int y = 0; y < 10; y++) {
      active[y] = Arrays.copyOfRange(sites[y + 1], 3, 18);
    }
    FrameMeasure got = read(dng).measure();
    assertEquals(measured(active, new Mosaic("RGGB", BLACK, 16383, 16)), got);
    assertEquals(7 * 5, got.pixels(), "the odd column is left out");
  }

  @Test
  void aSensorPictureInASubDirectoryInStrips() throws Exception {
    int[][] sites = Pictures.sites(8, 5, 16383, 7);
    ByteOrder order = ByteOrder.LITTLE_ENDIAN;
    byte[] data = Pictures.packed(sites, 16, order);
    TiffBytes raw = Pictures.dng(order, sites).longs(278, 2).longs(279, 32, 32, 16);
    TiffBytes top =
        new TiffBytes(order)
            .longs(254, 1)
            .shorts(262, 2)
            .shorts(274, 6)
            .directory(330, raw)
            .rationals(33434, 1, 125)
            .text(272, "Sensor Test ");
    // The strips' places are known once the data's own place is.
    int start = indexOf(raw.longs(273, 0, 0, 0).data(65000, data), top, data);
    raw.longs(273, start, start + 32, start + 64);
    FrameReading reading = read(top.file());
    assertEquals(measured(sites, new Mosaic("RGGB", BLACK, 16383, 16)), reading.measure());
    assertEquals(Shutter.parse("1/125"), reading.metadata().shutter().orElseThrow());
    assertEquals("Sensor Test", reading.metadata().camera().orElseThrow());
    assertEquals(6, reading.metadata().orientation());
  }

  private static int indexOf(TiffBytes raw, TiffBytes top, byte[] data) {
    assertTrue(raw.file().length < top.file().length);
    byte[] file = top.file();
    for (int i = 0; i <= file.length - data.length; i++) {
      if (Arrays.equals(file, i, i + data.length, data, 0, data.length)) {
        return i;
      }
    }
    throw new IllegalStateException("no data in the file");
  }

  static Stream<Arguments> refused() {
    return Stream.of(
        refused("no lossless JPEG", dng -> dng.shorts(259, 7)),
        refused("compressed (kind 9)", dng -> dng.shorts(259, 9)),
        refused("not read, and it carries no JPEG", dng -> dng.shorts(262, 2)),
        refused("7 bits", dng -> dng.shorts(258, 7)),
        refused("floating point", dng -> dng.shorts(339, 3)),
        refused("fills bytes", dng -> dng.shorts(266, 2)),
        refused("samples to a site", dng -> dng.shorts(277, 3).longs(256, 2)),
        refused("tiles", dng -> dng.longs(324, 8).longs(325, 8)),
        refused("linearization", dng -> dng.shorts(50712, new int[70_000])),
        refused("lack some columns", dng -> dng.signedRationals(50715, 1, 2)),
        refused("not above its black", dng -> dng.signedRationals(50716, deltas())),
        refused("megapixels", dng -> dng.longs(256, 60_000).longs(257, 60_000)),
        refused("above 0", dng -> dng.longs(256, 0)),
        refused("shorter than its rows", dng -> dng.longs(257, 100).longs(278, 100)),
        refused("strips and needs", dng -> dng.longs(257, 4000)),
        refused("active area", dng -> dng.longs(50829, 0, 0, 11, 8)),
        refused("active area", dng -> dng.longs(50829, 4, 4, 4, 8)),
        refused("active area", dng -> dng.longs(50829, 0xffffffffL, 0, 4, 8)),
        refused("2 x 2 sites", dng -> dng.shorts(33421, 6, 6)),
        refused("one red", dng -> dng.bytes(33422, 0, 1, 1, 3)),
        refused("black level", dng -> dng.shorts(50714, 20_000)),
        refused("white level", dng -> dng.longs(50717, 70_000)),
        refused("black level", dng -> dng.shorts(50713, 100, 8)),
        refused("rows", dng -> dng.longs(278, 0)),
        refused("beyond the end", dng -> dng.longs(273, 1_000_000)));
  }

  /** A rational for each of ten rows, the last of 20 000. */
  private static long[] deltas() {
    long[] parts = new long[20];
    Arrays.setAll(parts, i -> i % 2 == 1 ? 1 : i == 18 ? 20_000 : 0);
    return parts;
  }

  private static Arguments refused(String why, UnaryOperator<TiffBytes> change) {
    return Arguments.of(why, change);
  }

  @ParameterizedTest
  @MethodSource("refused")
  void saysWhatIsNotRead(String why, UnaryOperator<TiffBytes> change) {
    TiffBytes dng =
        change.apply(Pictures.dng(ByteOrder.BIG_ENDIAN, Pictures.sites(8, 10, 16383, 1)));
    String reason = assertThrows(UnreadableFrame.class, () -> read(dng.file())).getMessage();
    assertTrue(reason.contains(why), reason);
  }
}

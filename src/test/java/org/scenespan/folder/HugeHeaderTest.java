package org.scenespan.folder;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.google.common.jimfs.Configuration;
import com.google.common.jimfs.Jimfs;
import com.sun.management.ThreadMXBean;
import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.lang.management.ManagementFactory;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileSystem;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.stream.Stream;
import java.util.zip.CRC32;
import javax.imageio.IIOImage;
import javax.imageio.ImageIO;
import javax.imageio.ImageWriteParam;
import javax.imageio.ImageWriter;
import javax.imageio.stream.MemoryCacheImageOutputStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;
import org.scenespan.folder.jpeg.RowSink;

/** A small file whose header claims 65535 x 65535 pixels: refused before memory is taken for it. */
class HugeHeaderTest {
  private static final int SIDE = 65535;

  /** Bytes of heap to look at a header: windows on the file, tables, the refusal's words. */
  private static final long LOOK_BYTES = 4 << 20;

  private static final ThreadMXBean THREADS = (ThreadMXBean) ManagementFactory.getThreadMXBean();

  static Stream<Arguments> files() throws IOException {
    String above = "(65535 x 65535) is above 200 megapixels";
    int[][] sites = Pictures.sites(64, 64, 16383, 1);
    DngForms.Lossless lossless = new DngForms.Lossless(2, 1, 0);
    byte[] tiles = DngForms.tiled(ByteOrder.LITTLE_ENDIAN, sites, 64, 14, lossless).file();
    return Stream.of(
        Arguments.of("baseline.jpg", above, sized(Pictures.jpeg(16, 16, 1), 0xc0)),
        Arguments.of("progressive.jpg", above, sized(progressive(), 0xc2)),
        Arguments.of("picture.png", above, png()),
        Arguments.of("picture.tif", above, tiff().file()),
        Arguments.of("tiles.tif", above, tileOf(tiff().longs(256, 64).longs(257, 64)).file()),
        Arguments.of("plain.dng", above, huge(dng(sites)).file()),
        Arguments.of("lossless.dng", above, huge(dng(sites).shorts(259, 7)).file()),
        Arguments.of("tiles.dng", above, tileOf(dng(sites)).file()),
        Arguments.of("linear.dng", above, huge(dng(sites).shorts(262, 34892)).file()),
        Arguments.of("within.dng", "another size than its strip or tile", sized(tiles, 0xc3)),
        Arguments.of("raw.nef", "carries no JPEG", preview(sites)),
        Arguments.of("light.hdr", "65535", radiance()));
  }

  @ParameterizedTest
  @MethodSource("files")
  void isRefusedBeforeMemoryIsTaken(String name, String why, byte[] content) throws IOException {
    try (FileSystem memory = Jimfs.newFileSystem(Configuration.unix())) {
      Path file = Files.write(memory.getPath("/" + name), content);
      FrameReader reader = new FrameReader();
      // Once before, for what is loaded and filled once.
      assertThrows(UnreadableFrame.class, () -> reader.read(file));
      long before = THREADS.getCurrentThreadAllocatedBytes();
      UnreadableFrame refusal = assertThrows(UnreadableFrame.class, () -> reader.read(file));
      long taken = THREADS.getCurrentThreadAllocatedBytes() - before;
      assertTrue(refusal.getMessage().contains(why), refusal.getMessage());
      assertTrue(taken < LOOK_BYTES, taken + " bytes");
    }
  }

  /**
   * Ten scans of sixteen pixels, said to be 196 megapixels, with as many bytes behind the last of
   * them as so big a picture takes at least: within the limits, but the first lack of data ends it.
   * To go through all that is promised would take half a minute: ten passes over every row, of
   * which not even the first one is painted.
   */
  @Test
  void aProgressivePictureWithoutItsDataIsGivenUpAtOnce() throws Exception {
    try (FileSystem memory = Jimfs.newFileSystem(Configuration.unix())) {
      byte[] jpeg = sized(progressive(), 0xc2, (short) 14_000);
      ByteArrayOutputStream padded = new ByteArrayOutputStream();
      padded.write(jpeg, 0, jpeg.length - 2);
      padded.writeBytes(new byte[400_000]);
      padded.write(jpeg, jpeg.length - 2, 2);
      Path file = Files.write(memory.getPath("/short.jpg"), padded.toByteArray());
      UnreadableFrame refusal =
          assertThrows(UnreadableFrame.class, () -> new FrameReader().read(file));
      assertTrue(refusal.getMessage().contains("damaged"), refusal.getMessage());
      Painted painted = new Painted();
      try (Bytes bytes = Bytes.open(file)) {
        JpegFile whole = JpegFile.read(bytes);
        assertThrows(UnreadableFrame.class, () -> PlainJpegDecoder.decode(whole, 0, painted));
      }
      assertTrue(painted.rows < 100, painted.rows + " rows of 14 000 in ten passes");
    }
  }

  /** Counts the rows of all passes. */
  private static final class Painted implements RowSink, RowSink.Part {
    private long rows;

    @Override
    public void begin(int width, int height) {}

    @Override
    public Part part() {
      return this;
    }

    @Override
    public void row(int y, int[] pixels) {
      rows++;
    }

    @Override
    public void above(int y, int[] pixels) {}
  }

  /** Each scan is painted: a few hundred bytes could ask for any number of big pictures. */
  @Test
  void aBigPictureOfManyScansIsRefused() throws Exception {
    byte[] jpeg = sized(progressive(), 0xc2, (short) 14_000);
    byte[] scan = {(byte) 0xff, (byte) 0xda, 0, 8, 1, 1, 0, 1, 63, 0, 0};
    ByteArrayOutputStream many = new ByteArrayOutputStream();
    many.write(jpeg, 0, jpeg.length - 2);
    for (int i = 0; i < 11; i++) {
      many.writeBytes(scan);
    }
    many.write(jpeg, jpeg.length - 2, 2);
    try (FileSystem memory = Jimfs.newFileSystem(Configuration.unix())) {
      Path file = Files.write(memory.getPath("/many.jpg"), many.toByteArray());
      UnreadableFrame refusal =
          assertThrows(UnreadableFrame.class, () -> new FrameReader().read(file));
      assertTrue(refusal.getMessage().contains("20 scans"), refusal.getMessage());
    }
  }

  private static byte[] sized(byte[] jpeg, int marker) {
    return sized(jpeg, marker, (short) SIDE);
  }

  /** Gives the frame header with a marker another size: T.81, B.2.2. */
  private static byte[] sized(byte[] jpeg, int marker, short side) {
    byte[] changed = jpeg.clone();
    int found = 0;
    for (int i = 0; i < jpeg.length - 9; i++) {
      if (jpeg[i] == (byte) 0xff && jpeg[i + 1] == (byte) marker && jpeg[i + 2] == 0) {
        ByteBuffer.wrap(changed).putShort(i + 5, side).putShort(i + 7, side);
        found++;
      }
    }
    assertEquals(1, found, "frame headers");
    return changed;
  }

  private static byte[] progressive() throws IOException {
    BufferedImage image = new BufferedImage(16, 16, BufferedImage.TYPE_INT_RGB);
    ImageWriter writer = ImageIO.getImageWritersByFormatName("jpeg").next();
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    try (MemoryCacheImageOutputStream out = new MemoryCacheImageOutputStream(bytes)) {
      ImageWriteParam param = writer.getDefaultWriteParam();
      param.setProgressiveMode(ImageWriteParam.MODE_DEFAULT);
      writer.setOutput(out);
      writer.write(null, new IIOImage(image, null, null), param);
    } finally {
      writer.dispose();
    }
    return bytes.toByteArray();
  }

  private static byte[] png() {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    out.writeBytes(new byte[] {(byte) 0x89, 'P', 'N', 'G', '\r', '\n', 0x1a, '\n'});
    byte[] header = ByteBuffer.allocate(13).putInt(SIDE).putInt(SIDE).array();
    header[8] = 8;
    header[9] = 2;
    chunk(out, "IHDR", header);
    chunk(out, "IDAT", new byte[64]);
    chunk(out, "IEND", new byte[0]);
    return out.toByteArray();
  }

  private static void chunk(ByteArrayOutputStream out, String type, byte[] data) {
    byte[] name = type.getBytes(StandardCharsets.US_ASCII);
    CRC32 sum = new CRC32();
    sum.update(name);
    sum.update(data);
    out.writeBytes(ByteBuffer.allocate(4).putInt(data.length).array());
    out.writeBytes(name);
    out.writeBytes(data);
    out.writeBytes(ByteBuffer.allocate(4).putInt((int) sum.getValue()).array());
  }

  private static TiffBytes tiff() {
    return huge(
        new TiffBytes(ByteOrder.BIG_ENDIAN)
            .shorts(258, 8)
            .shorts(259, 1)
            .shorts(262, 1)
            .data(273, new byte[64])
            .longs(278, SIDE)
            .longs(279, 64));
  }

  private static TiffBytes dng(int[][] sites) {
    return Pictures.dng(ByteOrder.BIG_ENDIAN, sites);
  }

  private static TiffBytes huge(TiffBytes tiff) {
    return tiff.longs(256, SIDE).longs(257, SIDE);
  }

  /** One tile that is huge, of a picture that is not. */
  private static TiffBytes tileOf(TiffBytes tiff) {
    return tiff.without(273)
        .without(279)
        .longs(322, SIDE)
        .longs(323, SIDE)
        .longs(324, 8)
        .longs(325, 64);
  }

  /** A raw file of no kind that is read, with an embedded JPEG that claims the size. */
  private static byte[] preview(int[][] sites) {
    byte[] jpeg = sized(Pictures.jpeg(16, 16, 1), 0xc0);
    return dng(sites).shorts(259, 9).data(513, jpeg).longs(514, jpeg.length).file();
  }

  private static byte[] radiance() {
    try (ByteArrayOutputStream out = new ByteArrayOutputStream()) {
      out.writeBytes(
          "#?RADIANCE\nFORMAT=32-bit_rle_rgbe\n\n-Y 65535 +X 65535\n"
              .getBytes(StandardCharsets.US_ASCII));
      byte[] pixels = new byte[4096];
      Arrays.fill(pixels, (byte) 2);
      out.writeBytes(pixels);
      return out.toByteArray();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}

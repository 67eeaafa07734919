package org.scenespan.folder;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.google.common.jimfs.Configuration;
import com.google.common.jimfs.Jimfs;
import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.file.FileSystem;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import javax.imageio.IIOImage;
import javax.imageio.ImageIO;
import javax.imageio.ImageWriteParam;
import javax.imageio.ImageWriter;
import javax.imageio.stream.MemoryCacheImageOutputStream;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.scenespan.folder.jpeg.BaselineDecoder;
import org.scenespan.folder.jpeg.Source;

/** The decoder of our own against the JDK's reader, pixel for pixel. */
class BaselineJpegTest {
  private final List<Bytes> open = new ArrayList<>();
  private FileSystem memory;

  @BeforeEach
  void openMemory() {
    memory = Jimfs.newFileSystem(Configuration.unix());
  }

  @AfterEach
  void closeMemory() throws IOException {
    for (Bytes bytes : open) {
      bytes.close();
    }
    memory.close();
  }

  private JpegFile opened(byte[] content) throws Exception {
    Path file = Files.write(memory.getPath("/a.jpg"), content);
    return opened(file);
  }

  private JpegFile opened(Path file) throws Exception {
    Bytes bytes = Bytes.open(file);
    open.add(bytes);
    return JpegFile.read(bytes);
  }

  private static Optional<String> decode(JpegFile file, int threads, Picture into) {
    return decode(file, new BaselineDecoder(threads), into);
  }

  private static Optional<String> decode(JpegFile file, BaselineDecoder decoder, Picture into) {
    return decode(file, decoder, file::read, into);
  }

  private static Optional<String> decode(
      JpegFile file, BaselineDecoder decoder, Source source, Picture into) {
    return decoder.decode(
        file.decoderHeader(),
        file.start(),
        (int) file.structure().firstScan(),
        (int) file.structure().end(),
        source,
        into);
  }

  private static void checkEqual(JpegFile file, int threads) throws UnreadableFrame {
    Picture plain = new Picture();
    new PlainJpegDecoder().decode(file, plain);
    Picture ours = new Picture();
    assertEquals(Optional.empty(), decode(file, threads, ours));
    assertEquals(plain.width(), ours.width());
    assertEquals(plain.height(), ours.height());
    assertArrayEquals(plain.rgb(), ours.rgb());
  }

  @ParameterizedTest
  @CsvSource({
    "64, 48, grey, 0, 0.3", "1, 1, grey, 0, 0.5", "9, 17, grey, 1, 0.5", "333, 41, grey, 5, 0.9",
    "64, 48, 1x1, 0, 0.3", "1, 1, 1x1, 0, 0.5", "7, 23, 1x1, 2, 0.5", "129, 65, 1x1, 0, 0.9",
    "64, 48, 2x1, 0, 0.3", "5, 3, 2x1, 0, 0.5", "17, 9, 2x1, 1, 0.5", "1037, 31, 2x1, 65, 0.7",
    "64, 48, 2x2, 0, 0.3", "5, 5, 2x2, 0, 0.5", "33, 17, 2x2, 3, 0.5", "1031, 49, 2x2, 7, 0.8",
    "16, 16, 2x2, 0, 0.0", "600, 200, 2x2, 0, 0.01", "600, 1, 2x2, 0, 0.5", "6, 600, 2x1, 0, 1.0"
  })
  void equalsThePlainPath(int width, int height, String sampling, int restart, double density)
      throws Exception {
    byte[] jpeg = CodedJpeg.write(width, height, sampling, restart, density, width + height);
    checkEqual(opened(jpeg), 1);
  }

  /** Rows of several segments, of which the last one is not full, and many readings of the file. */
  @ParameterizedTest
  @CsvSource({
    "1200, 900, grey, 0, 0.9", "1200, 900, 1x1, 0, 0.5", "1601, 901, 2x1, 0, 0.7",
    "1601, 901, 2x2, 0, 0.9", "1600, 900, 2x1, 100, 0.7", "1600, 900, 2x2, 9, 0.9",
    "1600, 900, 2x2, 5000, 0.9"
  })
  void equalsThePlainPathOnSeveralThreads(
      int width, int height, String sampling, int restart, double density) throws Exception {
    byte[] jpeg = CodedJpeg.write(width, height, sampling, restart, density, width + height);
    assertTrue(jpeg.length > 3 << 17, jpeg.length + " bytes are many readings");
    checkEqual(opened(jpeg), 1);
    checkEqual(opened(jpeg), 2);
    checkEqual(opened(jpeg), 5);
  }

  /** A marker, a stuffed byte or a block lies across the end of what was read, wherever that is. */
  @ParameterizedTest
  @CsvSource({
    "901, 333, grey, 0, 1",
    "901, 333, 2x1, 0, 1",
    "901, 333, 2x2, 0, 2",
    "901, 333, 1x1, 0, 2",
    "901, 333, 2x1, 57, 1",
    "901, 333, 2x2, 1, 2",
    "901, 333, 2x1, 5000, 2"
  })
  void equalsThePlainPathHoweverLittleIsReadAtOnce(
      int width, int height, String sampling, int restart, int threads) throws Exception {
    JpegFile file = opened(CodedJpeg.write(width, height, sampling, restart, 0.8, width));
    Picture plain = new Picture();
    new PlainJpegDecoder().decode(file, plain);
    for (int readBytes : new int[] {1, 2, 61, 4096}) {
      Picture ours = new Picture();
      BaselineDecoder decoder = new BaselineDecoder(threads, readBytes);
      assertEquals(Optional.empty(), decode(file, decoder, ours));
      assertArrayEquals(plain.rgb(), ours.rgb());
    }
  }

  /** A restart marker after each unit must not lead to another reading of the same bytes. */
  @ParameterizedTest
  @CsvSource({"0", "1", "40"})
  void theFileIsReadOnce(int restart) throws Exception {
    byte[] jpeg = CodedJpeg.write(901, 333, "2x2", restart, 0.8, 3);
    JpegFile file = opened(jpeg);
    long[] read = {0};
    Source counted =
        (position, into, offset, length) -> {
          read[0] += length;
          file.read(position, into, offset, length);
        };
    assertEquals(Optional.empty(), decode(file, new BaselineDecoder(1), counted, new Picture()));
    assertTrue(jpeg.length > 1 << 17, jpeg.length + " bytes are many readings");
    assertTrue(read[0] < jpeg.length * 1.01, read[0] + " bytes of " + jpeg.length);
  }

  /** Pictures by the JDK's writer, which has only one sampling. */
  @ParameterizedTest
  @CsvSource({"640, 480, 0.05", "641, 479, 0.5", "300, 201, 0.9", "333, 77, 1.0"})
  void equalsThePlainPathOnPictures(int width, int height, float quality) throws Exception {
    checkEqual(opened(written(width, height, quality, false)), 2);
  }

  @Test
  void photographsAreDecodedHereOrRefused() throws Exception {
    List<String> refused = new ArrayList<>();
    int equal = 0;
    for (Path photograph : SharedFiles.filesBelow(SharedFiles.folder("photos"))) {
      if (!photograph.toString().endsWith(".jpg")) {
        continue;
      }
      JpegFile file = opened(photograph);
      Picture ours = new Picture();
      Optional<String> doubt = decode(file, 2, ours);
      if (doubt.isPresent()) {
        refused.add(photograph.getFileName() + ": " + doubt.get());
      } else {
        Picture plain = new Picture();
        new PlainJpegDecoder().decode(file, plain);
        assertArrayEquals(plain.rgb(), ours.rgb(), photograph::toString);
        equal++;
      }
    }
    assertTrue(equal > 30, equal + " equal; " + refused);
    assertTrue(refused.size() <= 2, refused::toString);
  }

  @ParameterizedTest
  @CsvSource({"1x2, 64, 64", "2x2, 4, 40", "2x1, 3, 8"})
  void whatLibrariesDifferOnIsRefused(String sampling, int width, int height) throws Exception {
    JpegFile file = opened(CodedJpeg.write(width, height, sampling, 0, 0.4, 1));
    assertTrue(decode(file, 1, new Picture()).isPresent());
    Picture picture = new Picture();
    new QuickJpegDecoder().decode(file, picture);
    assertEquals(width, picture.width());
  }

  @Test
  void aProgressivePictureComesByThePlainPath() throws Exception {
    byte[] whole = written(200, 150, 0.8f, true);
    JpegFile file = opened(whole);
    assertTrue(decode(file, 1, new Picture()).isPresent());
    Picture picture = new Picture();
    new QuickJpegDecoder().decode(file, picture);
    BufferedImage image = ImageIO.read(new java.io.ByteArrayInputStream(whole));
    for (int i = 0; i < picture.rgb().length; i++) {
      int expected = image.getRaster().getSample(i / 3 % 200, i / 600, i % 3);
      assertEquals(expected, picture.rgb()[i] & 0xff, "sample " + i);
    }
  }

  /**
   * Thousands of files with a byte changed, a part doubled or left out: either refused, or decoded
   * as the plain path does where that finds nothing wrong.
   */
  @ParameterizedTest
  @CsvSource({"grey, 0", "1x1, 3", "2x1, 0", "2x2, 0", "2x2, 4"})
  void damagedFilesAreNeverTakenForOthers(String sampling, int restart) throws Exception {
    byte[] whole = CodedJpeg.write(120, 90, sampling, restart, 0.4, 5);
    Random random = new Random(sampling.hashCode() + restart);
    int compared = 0;
    for (int i = 0; i < 300; i++) {
      JpegFile file = opened(damaged(whole, random));
      Picture ours = new Picture();
      if (decode(file, 1, ours).isPresent()) {
        continue;
      }
      Picture plain = new Picture();
      new PlainJpegDecoder().decode(file, plain);
      assertArrayEquals(plain.rgb(), ours.rgb(), "damage " + i);
      compared++;
    }
    assertTrue(compared > 0);
  }

  private static byte[] damaged(byte[] whole, Random random) {
    byte[] bytes = whole.clone();
    int codes = whole.length / 2;
    int at = codes + random.nextInt(whole.length - codes - 3);
    byte changed = (byte) random.nextInt(255);
    // A new marker is another matter: it is no longer a file of the same layout.
    boolean marker = bytes[at] == -1 || bytes[at - 1] == -1 || changed == -1;
    bytes[at] = marker ? bytes[at] : changed;
    return bytes;
  }

  /** Found by mutated files: there is then no last block to end behind. */
  @ParameterizedTest
  @CsvSource({"grey, 0", "1x1, 0", "2x2, 1"})
  void aScanWithoutCodesIsRefused(String sampling, int restart) throws Exception {
    byte[] jpeg = CodedJpeg.write(16, 16, sampling, restart, 0.5, 1);
    JpegFile whole = opened(jpeg);
    int codes = whole.start().length;
    byte[] empty = Arrays.copyOf(jpeg, codes + 2);
    System.arraycopy(jpeg, jpeg.length - 2, empty, codes, 2);
    JpegFile file = opened(empty);
    assertTrue(decode(file, 1, new Picture()).isPresent());
    assertThrows(UnreadableFrame.class, () -> new QuickJpegDecoder().decode(file, new Picture()));
  }

  @Test
  void aCutOffPartIsRefused() throws Exception {
    byte[] whole = CodedJpeg.write(300, 200, "2x2", 0, 0.5, 3);
    byte[] cut = Arrays.copyOf(whole, whole.length * 3 / 4);
    cut[cut.length - 3] = 0;
    cut[cut.length - 2] = -1;
    cut[cut.length - 1] = (byte) 0xd9;
    JpegFile file = opened(cut);
    assertTrue(decode(file, 1, new Picture()).isPresent());
    assertThrows(UnreadableFrame.class, () -> new QuickJpegDecoder().decode(file, new Picture()));
  }

  static byte[] written(int width, int height, float quality, boolean progressive)
      throws IOException {
    BufferedImage image = new BufferedImage(width, height, BufferedImage.TYPE_INT_RGB);
    Random random = new Random(width);
    for (int y = 0; y < height; y++) {
      for (int x = 0; x < width; x++) {
        int base = (int) (127 + 120 * Math.sin(x * y / 2000.0));
        int noise = random.nextInt(24) - 12;
        int value = Math.max(0, Math.min(255, base + noise));
        image.setRGB(x, y, value << 16 | (255 - value) << 8 | x * 255 / width);
      }
    }
    ImageWriter writer = ImageIO.getImageWritersByFormatName("jpeg").next();
    ImageWriteParam param = writer.getDefaultWriteParam();
    param.setCompressionMode(ImageWriteParam.MODE_EXPLICIT);
    param.setCompressionQuality(quality);
    param.setProgressiveMode(
        progressive ? ImageWriteParam.MODE_DEFAULT : ImageWriteParam.MODE_DISABLED);
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    try (MemoryCacheImageOutputStream out = new MemoryCacheImageOutputStream(bytes)) {
      writer.setOutput(out);
      writer.write(null, new IIOImage(image, null, null), param);
    } finally {
      writer.dispose();
    }
    return bytes.toByteArray();
  }
}

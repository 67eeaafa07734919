package org.scenespan.folder;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.google.common.jimfs.Configuration;
import com.google.common.jimfs.Jimfs;
import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.file.FileSystem;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.scenespan.frame.ByteRows;
import org.scenespan.frame.FrameMeasure;
import org.scenespan.frame.FrameMetadata;
import org.scenespan.frame.FrameReading;
import org.scenespan.frame.FrameSource;
import org.scenespan.frame.PixelMeter;
import org.scenespan.frame.ToneResponse;

class FrameReaderTest {
  private FileSystem memory;
  private final FrameReader reader = new FrameReader();

  @BeforeEach
  void openMemory() {
    memory = Jimfs.newFileSystem(Configuration.unix());
  }

  @AfterEach
  void closeMemory() throws IOException {
    memory.close();
  }

  private FrameReading read(byte[] content) throws IOException, UnreadableFrame {
    return reader.read(Files.write(memory.getPath("/a.jpg"), content));
  }

  private String reason(byte[] content) throws IOException {
    Path file = Files.write(memory.getPath("/a.jpg"), content);
    String reason = assertThrows(UnreadableFrame.class, () -> reader.read(file)).getMessage();
    assertTrue(reason.length() > 5 && reason.lines().count() == 1, reason);
    return reason;
  }

  /** Counts the pixels that another path through the JDK gives, one by one. */
  private static FrameMeasure measured(byte[] jpeg) throws IOException {
    BufferedImage image = ImageIO.read(new ByteArrayInputStream(jpeg));
    PixelMeter meter =
        new PixelMeter(image.getWidth(), image.getHeight(), FrameSource.FULL, ToneResponse.srgb(8));
    byte[] row = new byte[image.getWidth() * 3];
    ByteRows rows = new ByteRows(meter, image.getWidth());
    for (int y = 0; y < image.getHeight(); y++) {
      for (int x = 0; x < image.getWidth(); x++) {
        for (int band = 0; band < 3; band++) {
          int taken = Math.min(band, image.getRaster().getNumBands() - 1);
          row[x * 3 + band] = (byte) image.getRaster().getSample(x, y, taken);
        }
      }
      rows.colour(row);
    }
    return meter.measure();
  }

  @ParameterizedTest
  @CsvSource({"64, 48", "1, 1", "17, 33", "300, 7"})
  void countsEveryPixelOfAColourJpeg(int width, int height) throws Exception {
    byte[] jpeg = Pictures.jpeg(width, height, width);
    FrameReading reading = read(jpeg);
    assertEquals(measured(jpeg), reading.measure());
    assertEquals("a.jpg", reading.file());
    assertEquals("jpeg", reading.format());
    assertEquals(FrameMetadata.NONE, reading.metadata());
  }

  @Test
  void countsEveryPixelOfAGreyJpeg() throws Exception {
    BufferedImage grey = new BufferedImage(40, 20, BufferedImage.TYPE_BYTE_GRAY);
    for (int y = 0; y < 20; y++) {
      for (int x = 0; x < 40; x++) {
        grey.getRaster().setSample(x, y, 0, x * 6 + y);
      }
    }
    byte[] jpeg = Pictures.encoded(grey);
    assertEquals(measured(jpeg).red(), read(jpeg).measure().red());
    assertEquals(measured(jpeg).clipped(), read(jpeg).measure().clipped());
  }

  @ParameterizedTest
  @ValueSource(doubles = {0.2, 0.5, 0.9, 0.999})
  void aCutJpegIsUnreadable(double part) throws IOException {
    byte[] jpeg = Pictures.jpeg(200, 150, 1);
    assertTrue(reason(Arrays.copyOf(jpeg, (int) (jpeg.length * part))).contains("cut off"));
  }

  @Test
  void aJpegWithItsMiddleMissingIsUnreadable() throws IOException {
    byte[] jpeg = Pictures.jpeg(200, 150, 1);
    byte[] hole = Arrays.copyOf(jpeg, jpeg.length / 2 + 2);
    hole[hole.length - 2] = (byte) 0xff;
    hole[hole.length - 1] = (byte) 0xd9;
    assertTrue(reason(hole).contains("damaged"), "the end mark alone does not make it whole");
  }

  @Test
  void aHugeSizeIsRefusedBeforeMemoryIsTaken() throws IOException {
    byte[] jpeg = Pictures.jpeg(16, 16, 1);
    assertEquals(
        "its size (65500 x 65500) is above 200 megapixels", reason(withSize(jpeg, 65500, 65500)));
    assertEquals(
        "the JPEG is cut off: too few bytes for its size", reason(withSize(jpeg, 14000, 14000)));
    assertEquals("its size (16 x 0) must be above 0", reason(withSize(jpeg, 16, 0)));
  }

  private static byte[] withSize(byte[] jpeg, int width, int height) {
    byte[] changed = jpeg.clone();
    for (int i = 0; i < jpeg.length - 9; i++) {
      if (jpeg[i] == (byte) 0xff && jpeg[i + 1] == (byte) 0xc0) {
        ByteBuffer.wrap(changed).putShort(i + 5, (short) height).putShort(i + 7, (short) width);
      }
    }
    return changed;
  }

  @Test
  void whatIsNoPictureIsUnreadable() throws IOException {
    assertEquals("the file is empty", reason(new byte[0]));
    assertEquals(
        "its first bytes are those of no format that is read", reason("a shot list".getBytes()));
    Path nowhere = memory.getPath("/nowhere.jpg");
    assertEquals(
        "the file has gone",
        assertThrows(UnreadableFrame.class, () -> reader.read(nowhere)).getMessage());
    Path folder = Files.createDirectory(memory.getPath("/folder.jpg"));
    assertThrows(UnreadableFrame.class, () -> reader.read(folder));
  }

  /** What one picture was decoded in serves for the next, of whatever shape, and on any thread. */
  @Test
  void oneReaderReadsManyFramesAsManyReadersWould() throws Exception {
    byte[][] pictures = {
      Pictures.jpeg(800, 600, 1),
      Pictures.jpeg(1000, 400, 2),
      cutOff(Pictures.jpeg(800, 600, 3)),
      Pictures.jpeg(1000, 400, 4),
      Pictures.jpeg(40, 30, 5),
      Pictures.jpeg(800, 600, 6),
    };
    Path[] files = new Path[pictures.length];
    for (int i = 0; i < files.length; i++) {
      files[i] = Files.write(memory.getPath("/" + i + ".jpg"), pictures[i]);
    }
    List<Thread> threads = new ArrayList<>();
    List<String> wrong = Collections.synchronizedList(new ArrayList<>());
    for (int thread = 0; thread < 3; thread++) {
      int first = thread;
      threads.add(
          new Thread(
              () -> {
                for (int round = 0; round < 12; round++) {
                  int i = (first + round) % files.length;
                  Object alone = told(new FrameReader(), files[i]);
                  Object together = told(reader, files[i]);
                  if (!alone.equals(together)) {
                    wrong.add(files[i] + ": " + together + " instead of " + alone);
                  }
                }
              }));
    }
    threads.forEach(Thread::start);
    for (Thread thread : threads) {
      thread.join();
    }
    assertEquals(List.of(), wrong);
    assertTrue(told(reader, files[2]) instanceof String, "the one that is cut off is refused");
  }

  /** Half the codes, and an end mark that says that this is all. */
  private static byte[] cutOff(byte[] jpeg) {
    byte[] half = Arrays.copyOf(jpeg, jpeg.length / 2);
    half[half.length - 2] = (byte) 0xff;
    half[half.length - 1] = (byte) 0xd9;
    return half;
  }

  /** All that was measured, every bin of it, or why nothing was. */
  private static Object told(FrameReader reader, Path file) {
    try {
      return reader.read(file).measure();
    } catch (UnreadableFrame e) {
      return "refused: " + e.getMessage();
    }
  }
}

package org.scenespan.folder;

import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.SplittableRandom;
import java.util.concurrent.atomic.AtomicReference;
import javax.imageio.IIOImage;
import javax.imageio.ImageIO;
import javax.imageio.ImageWriteParam;
import javax.imageio.ImageWriter;
import javax.imageio.stream.MemoryCacheImageOutputStream;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Reads a frame made by code over and over in the background, so that the virtual machine has
 * compiled the way of a frame before the session's first one comes, which would take many times as
 * long as the second. One thread, a few seconds at most; it ends when a real frame comes.
 */
final class WarmUp {
  private static final Logger LOG = LoggerFactory.getLogger(WarmUp.class);

  /** The longest that it may take. */
  static final Duration LONGEST = Duration.ofSeconds(6);

  /** The most frames: after so many nothing is left to be compiled. */
  static final int MOST_FRAMES = 40;

  /** Wide and low: the loops are along rows. A frame takes some hundredths of a second, warm. */
  private static final int WIDTH = 3200;

  private static final int HEIGHT = 480;

  /** A camera's finest JPEG has long codes. */
  private static final float QUALITY = 0.97f;

  private enum Phase {
    NOT_BEGUN,
    RUNNING,
    OVER
  }

  private final AtomicReference<Phase> phase = new AtomicReference<>(Phase.NOT_BEGUN);
  private volatile int frames;

  /**
   * Begins, unless it has before or a real frame has come.
   *
   * @param pause before the first frame, so that what must be done at once is done
   */
  void begin(Duration pause, InstantSource clock) {
    if (!phase.compareAndSet(Phase.NOT_BEGUN, Phase.RUNNING)) {
      return;
    }
    Thread thread = new Thread(() -> run(pause, clock), "scenespan-warm-up");
    thread.setDaemon(true);
    thread.setPriority(Thread.MIN_PRIORITY);
    thread.start();
  }

  /** A real frame has come: no further one is read here. */
  void end() {
    phase.set(Phase.OVER);
  }

  boolean isRunning() {
    return phase.get() == Phase.RUNNING;
  }

  /** Frames read so far. */
  int frames() {
    return frames;
  }

  private void run(Duration pause, InstantSource clock) {
    try {
      Thread.sleep(pause.toMillis());
      Instant end = clock.instant().plus(LONGEST);
      byte[] jpeg = frame();
      FrameReader reader = new FrameReader(new QuickJpegDecoder(1));
      while (isRunning() && frames < MOST_FRAMES && clock.instant().isBefore(end)) {
        read(reader, jpeg);
        frames++;
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    } catch (IOException | UnreadableFrame | RuntimeException | OutOfMemoryError e) {
      // The first frame then takes as long as it would have taken.
      LOG.info("The warm-up ended early: {}", e.toString());
    } finally {
      end();
    }
  }

  private static void read(FrameReader reader, byte[] jpeg) throws IOException, UnreadableFrame {
    try (Bytes bytes = Bytes.of(new MemoryChannel(jpeg))) {
      Measured measured = reader.measured(Path.of("warm-up.jpg"), bytes, true);
      PreviewStore.coded(measured.preview().orElseThrow());
    }
  }

  /** Every kind of pixel: texture, noise, clipped and crushed. */
  static byte[] frame() throws IOException {
    BufferedImage image = new BufferedImage(WIDTH, HEIGHT, BufferedImage.TYPE_INT_RGB);
    SplittableRandom random = new SplittableRandom(1);
    int[] row = new int[WIDTH];
    for (int y = 0; y < HEIGHT; y++) {
      for (int x = 0; x < WIDTH; x++) {
        int light = (int) (360.0 * x / WIDTH + 25 * Math.sin(x * 0.9) * Math.sin(y * 0.7)) - 60;
        int grain = random.nextInt(9) + random.nextInt(9) - 8;
        int glint = random.nextInt(5000) == 0 ? 255 : 0;
        row[x] =
            code(light + grain + glint) << 16
                | code(light + 12 - grain + glint) << 8
                | code(light + 24 + random.nextInt(9) + glint);
      }
      image.getRaster().setDataElements(0, y, WIDTH, 1, row);
    }
    return coded(image);
  }

  private static int code(int value) {
    return Math.max(0, Math.min(255, value));
  }

  private static byte[] coded(BufferedImage image) throws IOException {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    ImageWriter writer = ImageIO.getImageWritersByFormatName("jpeg").next();
    try (MemoryCacheImageOutputStream output = new MemoryCacheImageOutputStream(bytes)) {
      ImageWriteParam wanted = writer.getDefaultWriteParam();
      wanted.setCompressionMode(ImageWriteParam.MODE_EXPLICIT);
      wanted.setCompressionQuality(QUALITY);
      writer.setOutput(output);
      writer.write(null, new IIOImage(image, null, null), wanted);
    } finally {
      writer.dispose();
    }
    return bytes.toByteArray();
  }
}

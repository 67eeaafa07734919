package org.scenespan.folder;

import java.awt.image.BufferedImage;
import java.awt.image.DataBufferByte;
import java.io.IOException;
import java.util.Iterator;
import java.util.Locale;
import java.util.Optional;
import javax.imageio.IIOException;
import javax.imageio.ImageIO;
import javax.imageio.ImageReader;
import javax.imageio.spi.IIORegistry;
import javax.imageio.spi.ImageReaderSpi;
import javax.imageio.stream.ImageInputStreamImpl;

/** Decodes with the JDK's own reader, the whole picture at once: the plain path and the oracle. */
final class PlainJpegDecoder implements JpegDecoder {
  /** The JDK's reader and no other that may be on the class path. */
  private static final String JDK_READER = "com.sun.imageio.plugins.jpeg.JPEGImageReader";

  @Override
  public void decode(JpegFile file, RowSink sink) throws UnreadableFrame {
    int colours = file.structure().components();
    long needed = (long) file.structure().width() * file.structure().height() * colours;
    if (needed > Runtime.getRuntime().maxMemory() / 2) {
      throw new UnreadableFrame("it takes " + (needed >> 20) + " MiB of memory to decode");
    }
    BufferedImage image = decode(file);
    if (image.getWidth() != file.structure().width()
        || image.getHeight() != file.structure().height()) {
      throw new UnreadableFrame("the JPEG contradicts itself on its size");
    }
    switch (image.getType()) {
      case BufferedImage.TYPE_BYTE_GRAY -> handOverGrey(image, sink);
      case BufferedImage.TYPE_3BYTE_BGR -> handOverColour(image, sink);
      default -> throw new UnreadableFrame("the JPEG's kind of colour is not read");
    }
  }

  private static BufferedImage decode(JpegFile file) throws UnreadableFrame {
    ImageReader reader = reader();
    Complaints complaints = new Complaints();
    try (Joined input = new Joined(file)) {
      reader.setInput(input, true, true);
      reader.addIIOReadWarningListener((source, warning) -> complaints.add(warning));
      BufferedImage image = reader.read(0);
      if (complaints.worst().isPresent()) {
        throw new UnreadableFrame("the JPEG is damaged: " + complaints.worst().get());
      }
      return image;
    } catch (IIOException e) {
      throw new UnreadableFrame("the JPEG cannot be decoded: " + e.getMessage(), e);
    } catch (IOException | RuntimeException e) {
      throw new UnreadableFrame("the JPEG cannot be decoded: " + e, e);
    } finally {
      reader.dispose();
    }
  }

  private static ImageReader reader() throws UnreadableFrame {
    Iterator<ImageReaderSpi> providers =
        IIORegistry.getDefaultInstance().getServiceProviders(ImageReaderSpi.class, true);
    while (providers.hasNext()) {
      ImageReaderSpi provider = providers.next();
      if (JDK_READER.equals(provider.getPluginClassName())) {
        try {
          return provider.createReaderInstance();
        } catch (IOException e) {
          throw new UnreadableFrame("the JDK's JPEG reader does not start: " + e, e);
        }
      }
    }
    // A JDK of another make: its first reader is the best guess.
    return ImageIO.getImageReadersByFormatName("jpeg").next();
  }

  private static void handOverGrey(BufferedImage image, RowSink sink) {
    int width = image.getWidth();
    byte[] pixels = ((DataBufferByte) image.getRaster().getDataBuffer()).getData();
    byte[] row = new byte[width];
    sink.begin(width, image.getHeight(), true);
    for (int y = 0; y < image.getHeight(); y++) {
      System.arraycopy(pixels, y * width, row, 0, width);
      sink.row(row);
    }
  }

  private static void handOverColour(BufferedImage image, RowSink sink) {
    int stride = image.getWidth() * 3;
    byte[] pixels = ((DataBufferByte) image.getRaster().getDataBuffer()).getData();
    byte[] row = new byte[stride];
    sink.begin(image.getWidth(), image.getHeight(), false);
    for (int y = 0, i = 0; y < image.getHeight(); y++) {
      for (int x = 0; x < stride; x += 3, i += 3) {
        row[x] = pixels[i + 2];
        row[x + 1] = pixels[i + 1];
        row[x + 2] = pixels[i];
      }
      sink.row(row);
    }
  }

  /**
   * What the decoder grumbled about. A picture that is cut off or damaged still comes out whole,
   * with a grey part, and only a warning tells.
   */
  private static final class Complaints {
    private Optional<String> worst = Optional.empty();

    void add(String warning) {
      if (worst.isEmpty() && !isHarmless(warning)) {
        worst = Optional.of(warning);
      }
    }

    /** Bytes too many between the last block and the next marker take nothing from the picture. */
    private static boolean isHarmless(String warning) {
      return warning.toLowerCase(Locale.ROOT).contains("extraneous byte");
    }

    Optional<String> worst() {
      return worst;
    }
  }

  /** The decoder's header and the file's scans as one stream, without a copy of the scans. */
  private static final class Joined extends ImageInputStreamImpl {
    private final byte[] header;
    private final byte[] file;
    private final int scans;

    Joined(JpegFile jpeg) {
      this.header = jpeg.decoderHeader();
      this.file = jpeg.bytes();
      this.scans = (int) jpeg.structure().firstScan();
    }

    @Override
    public int read() {
      byte[] one = new byte[1];
      return read(one, 0, 1) < 0 ? -1 : one[0] & 0xff;
    }

    @Override
    public int read(byte[] into, int offset, int length) {
      bitOffset = 0;
      int copied;
      if (streamPos < header.length) {
        copied = (int) Math.min(length, header.length - streamPos);
        System.arraycopy(header, (int) streamPos, into, offset, copied);
      } else {
        int at = (int) (streamPos - header.length) + scans;
        if (at >= file.length) {
          return -1;
        }
        copied = Math.min(length, file.length - at);
        System.arraycopy(file, at, into, offset, copied);
      }
      streamPos += copied;
      return copied;
    }

    @Override
    public long length() {
      return (long) header.length + file.length - scans;
    }
  }
}

package org.scenespan.folder;

import java.io.IOException;
import java.util.Iterator;
import java.util.Locale;
import java.util.Optional;
import javax.imageio.IIOException;
import javax.imageio.ImageIO;
import javax.imageio.ImageReadParam;
import javax.imageio.ImageReader;
import javax.imageio.spi.IIORegistry;
import javax.imageio.spi.ImageReaderSpi;
import javax.imageio.stream.ImageInputStreamImpl;
import org.scenespan.folder.jpeg.RowSink;

/**
 * Decodes with the JDK's own reader, row by row: the plain path and the oracle. Memory is a few
 * rows, whatever the picture's size; of a progressive file the reader itself keeps the codes.
 */
final class PlainJpegDecoder implements JpegDecoder {
  /** The JDK's reader and no other that may be on the class path. */
  private static final String JDK_READER = "com.sun.imageio.plugins.jpeg.JPEGImageReader";

  @Override
  public void decode(JpegFile file, RowSink sink) throws UnreadableFrame {
    // As many passes as scans come, but that is not promised.
    boolean complete = decode(file, file.structure().scans() - 1, sink) || decode(file, 0, sink);
    if (!complete) {
      throw new UnreadableFrame("the JDK's JPEG reader does not hand over every row");
    }
  }

  /**
   * @param passesToSkip passes over the whole picture that do not go to the sink
   * @return whether every row came
   */
  static boolean decode(JpegFile file, int passesToSkip, RowSink sink) throws UnreadableFrame {
    JpegStructure structure = file.structure();
    ImageReader reader = reader();
    Complaints complaints = new Complaints();
    try (Joined input = new Joined(file)) {
      reader.setInput(input, true, true);
      reader.addIIOReadWarningListener(
          (source, warning) -> {
            complaints.add(warning);
            if (complaints.worst().isPresent()) {
              // Else it would paint the rest of what the header promises, pass by pass.
              source.abort();
            }
          });
      if (reader.getWidth(0) != structure.width() || reader.getHeight(0) != structure.height()) {
        throw new UnreadableFrame("the JPEG contradicts itself on its size");
      }
      RowRaster rows =
          new RowRaster(
              structure.width(), structure.height(), structure.components(), passesToSkip, sink);
      ImageReadParam wanted = reader.getDefaultReadParam();
      wanted.setDestination(rows.image());
      reader.read(0, wanted);
      if (complaints.worst().isPresent()) {
        throw new UnreadableFrame("the JPEG is damaged: " + complaints.worst().get());
      }
      return rows.isComplete();
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

  /** The decoder's header and the file's scans as one stream. */
  private static final class Joined extends ImageInputStreamImpl {
    private final byte[] header;
    private final JpegFile file;
    private final int scans;
    private final int end;

    Joined(JpegFile jpeg) {
      this.header = jpeg.decoderHeader();
      this.file = jpeg;
      this.scans = (int) jpeg.structure().firstScan();
      this.end = (int) jpeg.structure().end();
    }

    @Override
    public int read() throws IOException {
      byte[] one = new byte[1];
      return read(one, 0, 1) < 0 ? -1 : one[0] & 0xff;
    }

    @Override
    public int read(byte[] into, int offset, int length) throws IOException {
      bitOffset = 0;
      int copied;
      if (streamPos < header.length) {
        copied = (int) Math.min(length, header.length - streamPos);
        System.arraycopy(header, (int) streamPos, into, offset, copied);
      } else {
        int at = (int) (streamPos - header.length) + scans;
        if (at >= end) {
          return -1;
        }
        copied = Math.min(length, end - at);
        file.read(at, into, offset, copied);
      }
      streamPos += copied;
      return copied;
    }

    @Override
    public long length() {
      return (long) header.length + end - scans;
    }
  }
}

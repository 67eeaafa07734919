package org.scenespan.rehearsal;

import java.awt.image.BufferedImage;
import java.awt.image.DataBufferInt;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.Iterator;
import javax.imageio.IIOImage;
import javax.imageio.ImageIO;
import javax.imageio.ImageTypeSpecifier;
import javax.imageio.ImageWriteParam;
import javax.imageio.ImageWriter;
import javax.imageio.metadata.IIOInvalidTreeException;
import javax.imageio.metadata.IIOMetadata;
import javax.imageio.metadata.IIOMetadataNode;
import javax.imageio.stream.MemoryCacheImageOutputStream;
import org.w3c.dom.NodeList;

/**
 * Makes the JPEG of a frame: 8 bits as its rendering has them, colour at full resolution, Exif as
 * the first segment. Code 255 goes in exactly where the rendering clips.
 */
final class JpegFile {
  private static final float QUALITY = 0.97f;
  private static final int SOI_BYTES = 2;
  private static final int APP0 = 0xe0;
  private static final String NATIVE_FORMAT = "javax_imageio_jpeg_image_1.0";
  private static final byte[] EXIF_MARK = {'E', 'x', 'i', 'f', 0, 0};

  private JpegFile() {}

  static byte[] encode(SensorFrame frame, FrameLabel label) {
    return encode(frame, label, Rendering.PLAIN);
  }

  static byte[] encode(SensorFrame frame, FrameLabel label, Rendering rendering) {
    TiffDirectory first =
        new TiffDirectory()
            .rationals(282, 72) // XResolution
            .rationals(283, 72) // YResolution
            .shorts(296, 2) // ResolutionUnit: inch
            .shorts(531, 1); // YCbCrPositioning: centred
    byte[] exif = label.addTo(first, frame.width(), frame.height()).toBytes();
    return withExif(compressed(picture(frame, rendering)), exif);
  }

  /** The picture before compression. */
  static BufferedImage picture(SensorFrame frame, Rendering rendering) {
    int[] encoded = encoding(frame.black(), frame.white(), rendering);
    BufferedImage image =
        new BufferedImage(frame.width(), frame.height(), BufferedImage.TYPE_INT_RGB);
    int[] pixels = ((DataBufferInt) image.getRaster().getDataBuffer()).getData();
    short[] codes = frame.codes();
    for (int i = 0, c = 0; i < pixels.length; i++, c += 3) {
      pixels[i] =
          encoded[codes[c] & 0xffff] << 16
              | encoded[codes[c + 1] & 0xffff] << 8
              | encoded[codes[c + 2] & 0xffff];
    }
    return image;
  }

  private static int[] encoding(int black, int white, Rendering rendering) {
    int[] encoded = new int[white + 1];
    for (int code = black; code < white; code++) {
      double light = (double) (code - black) / (white - black);
      long value = Math.round(255 * rendering.encoded(light));
      encoded[code] = (int) (rendering.clips(light) ? 255 : Math.min(254, value));
    }
    encoded[white] = 255;
    return encoded;
  }

  private static byte[] compressed(BufferedImage image) {
    ImageWriter writer = writer();
    ByteArrayOutputStream bytes = new ByteArrayOutputStream(1 << 19);
    try (MemoryCacheImageOutputStream out = new MemoryCacheImageOutputStream(bytes)) {
      ImageWriteParam param = writer.getDefaultWriteParam();
      param.setCompressionMode(ImageWriteParam.MODE_EXPLICIT);
      param.setCompressionQuality(QUALITY);
      IIOMetadata metadata =
          writer.getDefaultImageMetadata(ImageTypeSpecifier.createFromRenderedImage(image), param);
      keepColourWhole(metadata);
      writer.setOutput(out);
      writer.write(null, new IIOImage(image, null, metadata), param);
    } catch (IOException e) {
      throw new UncheckedIOException("a JPEG in memory", e);
    } finally {
      writer.dispose();
    }
    return bytes.toByteArray();
  }

  /** The runtime's own writer: others that are found first differ in what metadata they take. */
  private static ImageWriter writer() {
    ImageWriter writer = null;
    for (Iterator<ImageWriter> all = ImageIO.getImageWritersByFormatName("jpeg"); all.hasNext(); ) {
      ImageWriter next = all.next();
      if (writer == null || next.getClass().getName().startsWith("com.sun.imageio.")) {
        writer = next;
      }
    }
    if (writer == null) {
      throw new IllegalStateException("this Java runtime has no JPEG writer");
    }
    return writer;
  }

  /** One colour sample a pixel, where the writer's default is one for four. */
  private static void keepColourWhole(IIOMetadata metadata) throws IIOInvalidTreeException {
    IIOMetadataNode root = (IIOMetadataNode) metadata.getAsTree(NATIVE_FORMAT);
    NodeList components = root.getElementsByTagName("componentSpec");
    for (int i = 0; i < components.getLength(); i++) {
      IIOMetadataNode component = (IIOMetadataNode) components.item(i);
      component.setAttribute("HsamplingFactor", "1");
      component.setAttribute("VsamplingFactor", "1");
    }
    metadata.setFromTree(NATIVE_FORMAT, root);
  }

  /**
   * Exif wants its APP1 first (CIPA DC-008, 4.5.4); the JFIF segment, which wants that too, goes.
   */
  private static byte[] withExif(byte[] jpeg, byte[] exif) {
    int from = SOI_BYTES;
    while ((jpeg[from] & 0xff) == 0xff && (jpeg[from + 1] & 0xff) == APP0) {
      from += 2 + ((jpeg[from + 2] & 0xff) << 8 | jpeg[from + 3] & 0xff);
    }
    int length = 2 + EXIF_MARK.length + exif.length;
    ByteArrayOutputStream out = new ByteArrayOutputStream(jpeg.length + length + 2);
    out.write(jpeg, 0, SOI_BYTES);
    out.write(0xff);
    out.write(0xe1);
    out.write(length >> 8);
    out.write(length);
    out.writeBytes(EXIF_MARK);
    out.writeBytes(exif);
    out.write(jpeg, from, jpeg.length - from);
    return out.toByteArray();
  }
}

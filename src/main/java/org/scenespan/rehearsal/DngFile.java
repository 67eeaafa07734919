package org.scenespan.rehearsal;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;

/**
 * Makes the raw file of a frame: DNG 1.4, one filter mosaic of red, green / green, blue, 14 bits in
 * words of 16, not compressed, in strips.
 */
final class DngFile {
  /** Bytes of a strip, at least; TIFF 6.0 asks for about 8 KB, today's readers like more. */
  private static final int STRIP_BYTES = 1 << 18;

  /** CIE XYZ to BT.709 primaries, of which white is D65 (IEC 61966-2-1, Annex). */
  private static final double[] XYZ_TO_SENSOR = {
    3.2406, -1.5372, -0.4986, -0.9689, 1.8758, 0.0415, 0.0557, -0.2040, 1.0570
  };

  private static final int D65 = 21;
  private static final int COLOUR_FILTER_ARRAY = 32803;

  private DngFile() {}

  static byte[] encode(SensorFrame frame, FrameLabel label) {
    int rowBytes = 2 * frame.width();
    int rowsPerStrip = Math.min(frame.height(), Math.max(1, STRIP_BYTES / rowBytes));
    int strips = (frame.height() + rowsPerStrip - 1) / rowsPerStrip;
    int[] lengths = new int[strips];
    for (int i = 0; i < strips; i++) {
      lengths[i] = rowBytes * Math.min(rowsPerStrip, frame.height() - i * rowsPerStrip);
    }
    TiffDirectory directory = directory(frame, label, rowsPerStrip, lengths);
    int start = TiffDirectory.HEADER_BYTES + directory.longs(273, new int[strips]).size();
    int[] offsets = new int[strips];
    for (int i = 0; i < strips; i++) {
      offsets[i] = i == 0 ? start : offsets[i - 1] + lengths[i - 1];
    }
    byte[] head = directory.longs(273, offsets).toBytes();
    ByteBuffer file =
        ByteBuffer.allocate(head.length + rowBytes * frame.height())
            .order(ByteOrder.LITTLE_ENDIAN)
            .put(head);
    for (int y = 0; y < frame.height(); y++) {
      for (int x = 0; x < frame.width(); x++) {
        file.putShort((short) frame.code(x, y, SensorFrame.mosaicChannel(x, y)));
      }
    }
    return file.array();
  }

  private static TiffDirectory directory(
      SensorFrame frame, FrameLabel label, int rowsPerStrip, int[] lengths) {
    TiffDirectory first =
        new TiffDirectory()
            .longs(254, 0) // NewSubfileType: the full picture
            .longs(256, frame.width())
            .longs(257, frame.height())
            .shorts(258, 16) // BitsPerSample
            .shorts(259, 1) // Compression: none
            .shorts(262, COLOUR_FILTER_ARRAY) // PhotometricInterpretation
            .shorts(277, 1) // SamplesPerPixel
            .longs(278, rowsPerStrip)
            .longs(279, lengths) // StripByteCounts
            .shorts(284, 1) // PlanarConfiguration
            .text(305, FrameLabel.MAKE) // Software
            .shorts(33421, 2, 2) // CFARepeatPatternDim
            .bytes(33422, 0, 1, 1, 2) // CFAPattern: red, green, green, blue
            .bytes(50706, 1, 4, 0, 0) // DNGVersion
            .bytes(50707, 1, 1, 0, 0) // DNGBackwardVersion
            .text(50708, FrameLabel.MAKE + " " + FrameLabel.MODEL) // UniqueCameraModel
            .bytes(50710, 0, 1, 2) // CFAPlaneColor
            .shorts(50711, 1) // CFALayout: rectangular
            .shorts(50713, 1, 1) // BlackLevelRepeatDim
            .shorts(50714, frame.black())
            .longs(50717, frame.white())
            .signedRationals(50721, XYZ_TO_SENSOR) // ColorMatrix1
            .rationals(50728, 1, 1, 1) // AsShotNeutral
            .shorts(50778, D65); // CalibrationIlluminant1
    return label.addTo(first, frame.width(), frame.height());
  }
}

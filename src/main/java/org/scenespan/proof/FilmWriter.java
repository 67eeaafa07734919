package org.scenespan.proof;

import java.io.IOException;
import java.nio.ByteBuffer;
import org.jcodec.codecs.h264.H264Encoder;
import org.jcodec.codecs.h264.encode.RateControl;
import org.jcodec.codecs.h264.io.model.SliceType;
import org.jcodec.common.Codec;
import org.jcodec.common.MuxerTrack;
import org.jcodec.common.VideoCodecMeta;
import org.jcodec.common.VideoEncoder;
import org.jcodec.common.io.SeekableByteChannel;
import org.jcodec.common.model.ColorSpace;
import org.jcodec.common.model.Packet;
import org.jcodec.common.model.Picture;
import org.jcodec.common.model.Size;
import org.jcodec.containers.mp4.muxer.MP4Muxer;

/**
 * Writes pictures as H.264 in MP4, all at one quality: a film that is to show flicker must not add
 * its own by quantising some pictures more coarsely than others.
 */
final class FilmWriter {
  /** Of the quantiser, 0 to 51: at 18 a code of eight bits survives in an even area. */
  private static final int QUALITY = 18;

  /** The codec's worst case: three bytes a pixel and the heads. */
  private static final int HEAD_BYTES = 1 << 16;

  /** The library keeps its samples signed. */
  private static final int OFFSET = 128;

  private final MP4Muxer muxer;
  private final int rate;
  private final H264Encoder encoder = new H264Encoder(new OneQuality());
  private MuxerTrack track;
  private int frames;

  private static final class OneQuality implements RateControl {
    @Override
    public int startPicture(Size size, int most, SliceType type) {
      return QUALITY;
    }

    @Override
    public int initialQpDelta() {
      return 0;
    }

    @Override
    public int accept(int bits) {
      return 0;
    }
  }

  /**
   * @param rate frames a second
   */
  FilmWriter(SeekableByteChannel out, int rate) throws IOException {
    this.muxer = MP4Muxer.createMP4MuxerToChannel(out);
    this.rate = rate;
  }

  /**
   * @param rgb sRGB codes of each pixel
   * @param width even, the same for all
   * @param height even, the same for all
   */
  void add(byte[] rgb, int width, int height) throws IOException {
    if (track == null) {
      track =
          muxer.addVideoTrack(
              Codec.H264,
              VideoCodecMeta.createSimpleVideoCodecMeta(
                  new Size(width, height), ColorSpace.YUV420J));
    }
    VideoEncoder.EncodedFrame encoded =
        encoder.encodeFrame(
            picture(rgb, width, height), ByteBuffer.allocate(3 * width * height + HEAD_BYTES));
    Packet.FrameType type = encoded.isKeyFrame() ? Packet.FrameType.KEY : Packet.FrameType.INTER;
    track.addFrame(Packet.createPacket(encoded.getData(), frames, rate, 1, frames, type, null));
    frames++;
  }

  void finish() throws IOException {
    muxer.finish();
  }

  /**
   * Luma and chroma of ITU-R BT.709 in the range of video, 16 to 235 (its table of quantised
   * levels); what a player takes a film of this size for.
   */
  private static Picture picture(byte[] rgb, int width, int height) {
    Picture picture = Picture.create(width, height, ColorSpace.YUV420J);
    byte[] luma = picture.getPlaneData(0);
    byte[] blue = picture.getPlaneData(1);
    byte[] red = picture.getPlaneData(2);
    for (int y = 0; y < height; y += 2) {
      for (int x = 0; x < width; x += 2) {
        double b = 0;
        double r = 0;
        for (int i = 0; i < 4; i++) {
          int at = (y + i / 2) * width + x + i % 2;
          double ey = luma(rgb, at);
          luma[at] = (byte) (Math.round(16 + 219 * ey) - OFFSET);
          b += (code(rgb, at, 2) - ey) / 1.8556 / 4;
          r += (code(rgb, at, 0) - ey) / 1.5748 / 4;
        }
        int at = y / 2 * (width / 2) + x / 2;
        blue[at] = (byte) Math.round(224 * b);
        red[at] = (byte) Math.round(224 * r);
      }
    }
    return picture;
  }

  private static double luma(byte[] rgb, int pixel) {
    return 0.2126 * code(rgb, pixel, 0)
        + 0.7152 * code(rgb, pixel, 1)
        + 0.0722 * code(rgb, pixel, 2);
  }

  private static double code(byte[] rgb, int pixel, int channel) {
    return (rgb[3 * pixel + channel] & 0xff) / 255.0;
  }
}

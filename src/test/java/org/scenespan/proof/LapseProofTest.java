package org.scenespan.proof;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import org.jcodec.api.FrameGrab;
import org.jcodec.api.specific.AVCMP4Adaptor;
import org.jcodec.common.DemuxerTrack;
import org.jcodec.common.SeekableDemuxerTrack;
import org.jcodec.common.io.NIOUtils;
import org.jcodec.common.io.SeekableByteChannel;
import org.jcodec.common.model.Picture;
import org.jcodec.containers.mp4.demuxer.MP4Demuxer;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.scenespan.frame.CodeScale;
import org.scenespan.frame.FrameMetadata;
import org.scenespan.frame.PictureForm;
import org.scenespan.frame.PictureRows;
import org.scenespan.light.Ev;
import org.scenespan.light.Stops;

/** A lapse of small frames made by arithmetic, each of an even grey that flickers. */
class LapseProofTest {
  private static final int WIDTH = 1400;
  private static final int HEIGHT = 788;
  private static final double GREY = 0.18;

  @TempDir private Path directory;

  /** The name says how far the frame is off, in hundredths of a stop. */
  private static void read(Path file, PictureRows rows) throws IOException {
    String name = file.getFileName().toString();
    if (name.startsWith("broken")) {
      throw new IOException("the file is empty");
    }
    int height = name.startsWith("tall") ? 2 * HEIGHT : HEIGHT;
    double off = Integer.parseInt(name.replaceAll("[^0-9-]", "")) / 100.0;
    rows.begin(new PictureForm(WIDTH, height, false, CodeScale.linear16(), FrameMetadata.NONE));
    short[] row = new short[WIDTH * 3];
    Arrays.fill(row, CodeScale.code16(GREY * Math.pow(2, off)));
    for (int y = 0; y < height; y++) {
      rows.row(y, row);
    }
  }

  private static LapseProof.Frame frame(int index, String name, double off) {
    return new LapseProof.Frame(
        10.0 * index,
        new Ev(5 + 0.1 * index),
        Optional.of(Path.of(name)),
        Optional.of(new Stops(off)),
        Optional.of(new Stops(-off)));
  }

  private LapseProof.Result make(List<LapseProof.Frame> frames) throws IOException {
    return new LapseProof(LapseProofTest::read, (step, share) -> {})
        .make(frames, 24, directory.resolve("proof"));
  }

  @Test
  void evensTheFlickerOutInTheFilm() throws Exception {
    List<LapseProof.Frame> frames = new ArrayList<>();
    for (int i = 0; i < 6; i++) {
      int off = i % 2 == 0 ? 20 : -20;
      frames.add(frame(i, "off" + off + ".dng", off / 100.0));
    }
    LapseProof.Result result = make(frames);
    assertEquals(6, result.frames());
    assertEquals(List.of(), result.skipped());
    List<Double> levels = levels(result.folder().resolve(LapseProof.FILM));
    assertEquals(6, levels.size());
    for (double level : levels) {
      // 18 % is 117.65 of 255 in sRGB, in video's range (ITU-R BT.709) 117.04; 0.4 stop is 14
      // codes.
      assertEquals(117.04, level, 1);
    }
  }

  /** The mean luma of each picture of the film, as the library's own decoder gives it. */
  private static List<Double> levels(Path film) throws Exception {
    List<Double> levels = new ArrayList<>();
    try (SeekableByteChannel in = NIOUtils.readableFileChannel(film.toString())) {
      DemuxerTrack track = MP4Demuxer.createMP4Demuxer(in).getVideoTrack();
      FrameGrab grab =
          new FrameGrab((SeekableDemuxerTrack) track, new AVCMP4Adaptor(track.getMeta()));
      Picture picture = grab.getNativeFrame();
      while (picture != null) {
        assertEquals(1280, picture.getCroppedWidth());
        assertEquals(720, picture.getCroppedHeight());
        byte[] luma = picture.getPlaneData(0);
        double sum = 0;
        for (byte sample : luma) {
          sum += sample + 128;
        }
        levels.add(sum / luma.length);
        picture = grab.getNativeFrame();
      }
    }
    return levels;
  }

  @Test
  void leavesOutWhatCannotBeReadAndSaysSo() throws IOException {
    LapseProof.Result result =
        make(
            List.of(frame(0, "off0.dng", 0), frame(1, "broken1.dng", 0), frame(2, "tall0.dng", 0)));
    assertEquals(1, result.frames());
    assertEquals(2, result.skipped().size());
    assertTrue(result.skipped().get(0).contains("broken1.dng"), result.skipped().toString());
  }

  @Test
  void drawsExposureAndBrightness() throws IOException {
    LapseProof.Result result = make(List.of(frame(0, "off0.dng", 0.1), frame(1, "off1.dng", -0.1)));
    String plot = Files.readString(result.folder().resolve(LapseProof.PLOT));
    assertTrue(plot.startsWith("<svg"), plot);
    assertTrue(plot.contains("EV at ISO 100"), plot);
    assertEquals(3, plot.split("fill=\"none\"", -1).length - 1, plot);
  }

  @Test
  void aProofIsMadeAnewInItsOwnFolderOnly() throws IOException {
    List<LapseProof.Frame> frames = List.of(frame(0, "off0.dng", 0));
    make(frames);
    LapseProof.Result again = make(frames);
    Files.writeString(again.folder().resolve(LapseProof.PLOT), "mine");
    IOException inTheWay = assertThrows(IOException.class, () -> make(frames));
    assertTrue(inTheWay.getMessage().contains("in the way"), inTheWay.getMessage());
  }

  @Test
  void aLapseWithoutAReadableFrameIsRefused() {
    assertThrows(IOException.class, () -> make(List.of(frame(0, "broken0.dng", 0))));
  }
}

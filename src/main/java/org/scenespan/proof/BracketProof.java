package org.scenespan.proof;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import javax.imageio.IIOImage;
import javax.imageio.ImageIO;
import javax.imageio.ImageWriteParam;
import javax.imageio.ImageWriter;
import javax.imageio.stream.MemoryCacheImageOutputStream;
import org.scenespan.frame.CameraProfile;
import org.scenespan.frame.MidGrey;
import org.scenespan.frame.NoiseModel;
import org.scenespan.light.Ev;
import org.scenespan.light.Share;

/**
 * Merges a bracket's frames and writes what shows whether the set is good: radiance as {@code .hdr}
 * and {@code .tif}, a fused picture for the eye, and maps of signal-to-noise and of what is
 * clipped, too dark or moved.
 */
public final class BracketProof {
  static final String HDR = "radiance.hdr";
  static final String TIFF = "radiance.tif";
  static final String FUSED = "fused.jpg";
  static final String SNR_MAP = "snr.png";
  static final String FLAG_MAP = "flags.png";

  /** Reflected light: EV 0 at ISO 100 is 0.125 cd/m² with K = 12.5 (ISO 2720). */
  private static final double CANDELA_AT_EV_0 = 0.125;

  private static final float JPEG_QUALITY = 0.92f;
  private static final double UNPACKED_SHARE = 0.4;
  private static final double MERGED_SHARE = 0.8;

  private final PictureReader reader;
  private final NoiseModel noise;
  private final double snr;
  private final Optional<CameraProfile> profile;
  private final Progress progress;

  /**
   * @param noise the sensor's
   * @param snr the signal-to-noise that was asked for
   * @param profile of the camera that rendered the frames, if it is known
   */
  public BracketProof(
      PictureReader reader,
      NoiseModel noise,
      double snr,
      Optional<CameraProfile> profile,
      Progress progress) {
    this.reader = reader;
    this.noise = noise;
    this.snr = snr;
    this.profile = profile;
    this.progress = progress;
  }

  /** A frame that could be read. */
  private record Unpacked(ProofFrame frame, FrameStore store) {}

  /**
   * @param frames at least one; only read
   * @param folder for the proof's files; is created if need be
   * @throws IOException if no frame can be read, a file that is not ours is in the way, or the disk
   *     is full; nothing is then changed in the folder
   */
  public ProofResult make(List<ProofFrame> frames, Path folder) throws IOException {
    List<String> names = List.of(HDR, TIFF, FUSED, SNR_MAP, FLAG_MAP);
    List<FrameStore> open = new ArrayList<>();
    try (OutputFolder output = OutputFolder.open(folder, names)) {
      List<String> skipped = new ArrayList<>();
      List<Unpacked> unpacked = unpack(frames, output, open, skipped);
      ProofResult result = write(unpacked, skipped, output, open);
      output.publish(result.list(output.digests()));
      progress.at("done", 1);
      return result;
    } finally {
      for (FrameStore store : open) {
        store.close();
      }
    }
  }

  private List<Unpacked> unpack(
      List<ProofFrame> frames, OutputFolder output, List<FrameStore> open, List<String> skipped)
      throws IOException {
    List<Unpacked> unpacked = new ArrayList<>();
    for (ProofFrame frame : frames) {
      String name = name(frame.file());
      progress.at(
          "reading " + name, UNPACKED_SHARE * (unpacked.size() + skipped.size()) / frames.size());
      try {
        FrameStore store = FrameStore.fill(output.path(), frame.file(), reader);
        open.add(store);
        FrameStore first = unpacked.isEmpty() ? store : unpacked.get(0).store;
        if (store.width() != first.width() || store.height() != first.height()) {
          skipped.add(name + ": it has another size than " + name(unpacked.get(0).frame.file()));
        } else {
          unpacked.add(new Unpacked(frame, store));
        }
      } catch (IOException unreadable) {
        skipped.add(name + ": " + unreadable.getMessage());
      }
    }
    if (unpacked.isEmpty()) {
      throw new IOException("none of the frames can be merged: " + String.join("; ", skipped));
    }
    unpacked.sort(Comparator.comparing(each -> each.frame.exposure().ev()));
    return unpacked;
  }

  private static String name(Path file) {
    return file.getFileName().toString();
  }

  private ProofResult write(
      List<Unpacked> unpacked, List<String> skipped, OutputFolder output, List<FrameStore> open)
      throws IOException {
    Ev unit = MidGrey.saturation(unpacked.get(unpacked.size() / 2).frame.exposure());
    List<FrameLight> lights = new ArrayList<>();
    List<FrameStore> stores = new ArrayList<>();
    for (Unpacked each : unpacked) {
      stores.add(each.store);
      lights.add(FrameLight.of(each.store.form(), each.frame.exposure(), noise, unit, profile));
    }
    double candela = CANDELA_AT_EV_0 * Math.pow(2, unit.value());
    MergeFiles files = new MergeFiles(stores, new Merge(lights), maps(lights), candela);
    ProofMaps.Counts counts =
        files.write(
            output,
            share ->
                progress.at("merging", UNPACKED_SHARE + share * (MERGED_SHARE - UNPACKED_SHARE)));
    FusedPictures pictures = fuse(unpacked, output, open);
    long pixels = (long) stores.get(0).width() * stores.get(0).height();
    Map<String, Double> reached = new LinkedHashMap<>();
    for (int i = 0; i < counts.classes.length; i++) {
      reached.put(ProofMaps.className(i), (double) counts.classes[i] / pixels);
    }
    return new ProofResult(
        output.path(),
        unpacked.stream().map(each -> name(each.frame.file())).toList(),
        skipped,
        stores.get(0).width(),
        stores.get(0).height(),
        snr,
        Share.of(counts.clipped, pixels),
        Share.of(counts.dark, pixels),
        Share.of(counts.moved, pixels),
        reached,
        candela,
        pictures.factor(),
        linear(stores));
  }

  /** Black is where the longest exposure has no signal, white where the shortest one clips. */
  private ProofMaps maps(List<FrameLight> lights) {
    double darkest = Double.POSITIVE_INFINITY;
    double brightest = 0;
    for (FrameLight light : lights) {
      darkest = Math.min(darkest, Math.sqrt(light.floorVariance()) / light.electronsPerUnit());
      brightest = Math.max(brightest, light.saturation() / light.electronsPerUnit());
    }
    return new ProofMaps(snr, darkest, brightest);
  }

  private String linear(List<FrameStore> stores) {
    if (stores.stream().noneMatch(store -> store.form().rendered())) {
      return "raw data";
    }
    return profile
        .filter(CameraProfile::hasResponse)
        .map(known -> "JPEG by the measured response of " + known.camera())
        .orElse("JPEG taken as plain sRGB, which a camera's own tones are not: a guess");
  }

  private FusedPictures fuse(List<Unpacked> unpacked, OutputFolder output, List<FrameStore> open)
      throws IOException {
    FusedPictures pictures = new FusedPictures(rendered(unpacked, output, open));
    progress.at("fusing", MERGED_SHARE);
    Plane[] fused = new Fusion(pictures.width(), pictures.height()).fuse(pictures);
    ImageWriter writer = ImageIO.getImageWritersByFormatName("jpeg").next();
    try (OutputStream out = output.create(FUSED);
        MemoryCacheImageOutputStream image = new MemoryCacheImageOutputStream(out)) {
      ImageWriteParam param = writer.getDefaultWriteParam();
      param.setCompressionMode(ImageWriteParam.MODE_EXPLICIT);
      param.setCompressionQuality(JPEG_QUALITY);
      writer.setOutput(image);
      writer.write(null, new IIOImage(FusedPictures.image(fused), null, null), param);
    } finally {
      writer.dispose();
    }
    return pictures;
  }

  /** The camera's own renderings if there is one of each frame, since a raw has no colours yet. */
  private List<FrameStore> rendered(
      List<Unpacked> unpacked, OutputFolder output, List<FrameStore> open) throws IOException {
    List<FrameStore> own = unpacked.stream().map(Unpacked::store).toList();
    if (unpacked.stream().anyMatch(each -> each.frame.rendered().isEmpty())) {
      return own;
    }
    List<FrameStore> stores = new ArrayList<>();
    for (Unpacked each : unpacked) {
      Path file = each.frame.rendered().orElseThrow();
      progress.at("reading " + name(file), MERGED_SHARE);
      try {
        FrameStore store = FrameStore.fill(output.path(), file, reader);
        open.add(store);
        stores.add(store);
      } catch (IOException unreadable) {
        return own;
      }
    }
    FrameStore first = stores.get(0);
    boolean same =
        stores.stream()
            .allMatch(each -> each.width() == first.width() && each.height() == first.height());
    return same ? stores : own;
  }

  static String unit(double candela) {
    return String.format(
        Locale.ROOT,
        "linear light, 1.0 = %.5g cd/m2 within a third of a stop; channels as the camera gave them",
        candela);
  }
}

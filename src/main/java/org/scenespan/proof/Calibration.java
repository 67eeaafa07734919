package org.scenespan.proof;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import org.scenespan.frame.CameraProfile;
import org.scenespan.frame.MeasuredNoise;
import org.scenespan.frame.MeasuredShutters;
import org.scenespan.frame.PictureForm;
import org.scenespan.frame.PictureRows;
import org.scenespan.frame.ResponseRecovery;
import org.scenespan.frame.ToneResponse;
import org.scenespan.light.Exposure;

/**
 * Finds a camera's tone response and headroom from a bracket of a still scene, and from its raw
 * files the sensor's noise and the shutter's real times.
 */
public final class Calibration {
  /** Least distance from the darkest to the brightest picture, stops. */
  private static final double LEAST_SPAN_STOPS = 2;

  /** A patch whose codes differ by more is not flat: an edge, or something that moves. */
  private static final int FLAT_CODES = 16;

  /** A patch that gets darker by more codes with more light has moved, or the light has changed. */
  private static final int FALLING_CODES = 4;

  /** Fewer flat patches tell too little. */
  private static final int LEAST_SAMPLES = 60;

  private static final int LEAST_HEADROOM_SAMPLES = 25;

  /** The part of the codes near clipping from which headroom is read. */
  private static final int HEADROOM_FROM_CODE = 200;

  private static final double RAW_UNCLIPPED = 0.98;

  /** Compression lowers clipped pixels by a few codes, and their light is unknown. */
  private static final int CLIPPED_FROM = 252;

  private static final int TOP = ResponseRecovery.CODES - 1;

  /**
   * Smoothness to the square root of the samples, since the data's weight grows with their number.
   * OpenCV's 10 for 70 samples would be 1.2; thousands of patches need less, and a gamma's dark end
   * bends so much that 1.2 is off by 0.07 stop there, 0.3 by 0.02.
   */
  private static final double SMOOTHNESS = 0.3;

  private final PictureReader reader;
  private final Progress progress;

  public Calibration(PictureReader reader, Progress progress) {
    this.reader = reader;
    this.progress = progress;
  }

  private record Picture(
      Path file, FlatPatches patches, SensorPatches sites, Optional<Exposure> exposure) {}

  /**
   * @param files JPEGs of one still scene at several exposures, and the raw files of some of them;
   *     raw files alone tell no response
   * @throws IOException if a file cannot be read
   * @throws IllegalArgumentException in one line, if nothing can be told from them
   */
  public CameraProfile recover(List<Path> files) throws IOException {
    List<Picture> jpegs = new ArrayList<>();
    List<Picture> raws = new ArrayList<>();
    for (Path file : files) {
      progress.at(
          "reading " + file.getFileName(), (double) (jpegs.size() + raws.size()) / files.size());
      Picture picture = read(file);
      (picture.patches.form().rendered() ? jpegs : raws).add(picture);
    }
    List<SensorCalibration.Frame> frames = new ArrayList<>();
    for (Picture raw : raws) {
      if (raw.sites.fields() > 0 && raw.exposure.isPresent()) {
        frames.add(new SensorCalibration.Frame(raw.sites, raw.exposure.get()));
      }
    }
    String camera = camera(jpegs, raws);
    Optional<MeasuredShutters> shutters = ShutterCalibration.of(frames);
    List<MeasuredNoise> noise = SensorCalibration.noise(frames);
    if (spanOf(jpegs) < LEAST_SPAN_STOPS && !(noise.isEmpty() && shutters.isEmpty())) {
      progress.at("done", 1);
      return new CameraProfile(camera, 0, 0, List.of(), noise, shutters, Optional.empty());
    }
    checkSpan(jpegs);
    jpegs.sort(Comparator.comparing((Picture each) -> ev(each)).reversed());
    double[] stops = jpegs.stream().mapToDouble(each -> -realEv(each, shutters)).toArray();
    List<CameraProfile.Channel> channels = new ArrayList<>();
    for (int channel = 0; channel < 3; channel++) {
      channels.add(channel(channel, jpegs, stops, raws));
    }
    progress.at("done", 1);
    return new CameraProfile(
        camera, jpegs.size(), spanOf(jpegs), channels, noise, shutters, Optional.empty());
  }

  /** With the shutter's real time where the raw files have shown it. */
  private static double realEv(Picture picture, Optional<MeasuredShutters> shutters) {
    Exposure exposure = picture.exposure.orElseThrow();
    return shutters.map(times -> times.real(exposure)).orElse(exposure).ev().value();
  }

  private Picture read(Path file) throws IOException {
    FlatPatches patches = new FlatPatches();
    SensorPatches sites = new SensorPatches();
    try {
      reader.read(file, new Both(patches, sites));
    } catch (IOException e) {
      throw new IOException("\"" + file + "\": " + e.getMessage(), e);
    } catch (IllegalArgumentException e) {
      throw new IllegalArgumentException("\"" + file + "\": " + e.getMessage(), e);
    }
    return new Picture(file, patches, sites, patches.form().metadata().exposure());
  }

  /** Gathers two things in one pass. */
  private record Both(FlatPatches flat, SensorPatches sites) implements PictureRows {
    @Override
    public void begin(PictureForm form) {
      flat.begin(form);
      sites.begin(form);
    }

    @Override
    public void row(int y, short[] rgb) {
      flat.row(y, rgb);
      sites.row(y, rgb);
    }
  }

  private static double ev(Picture picture) {
    return picture.exposure.orElseThrow().ev().value();
  }

  /** The one camera's name. */
  private static String camera(List<Picture> jpegs, List<Picture> raws) {
    for (Picture picture : jpegs) {
      if (picture.exposure.isEmpty()) {
        throw new IllegalArgumentException(
            "\"" + picture.file + "\" does not say its shutter, aperture and ISO");
      }
    }
    Set<String> cameras = new TreeSet<>();
    for (Picture picture : jpegs.isEmpty() ? raws : jpegs) {
      cameras.add(picture.patches.form().metadata().camera().orElse("unknown camera"));
    }
    if (cameras.size() > 1) {
      throw new IllegalArgumentException("the files are of several cameras: " + cameras);
    }
    return cameras.iterator().next();
  }

  private static double spanOf(List<Picture> jpegs) {
    return jpegs.stream().mapToDouble(Calibration::ev).max().orElse(0)
        - jpegs.stream().mapToDouble(Calibration::ev).min().orElse(0);
  }

  private static void checkSpan(List<Picture> jpegs) {
    if (!(spanOf(jpegs) >= LEAST_SPAN_STOPS)) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "%d JPEGs that span %.1f stops do not show a response; give a bracket of a still"
                  + " scene over %.0f stops or more",
              jpegs.size(),
              spanOf(jpegs),
              LEAST_SPAN_STOPS));
    }
  }

  private static CameraProfile.Channel channel(
      int channel, List<Picture> jpegs, double[] stops, List<Picture> raws) {
    int[][] samples = samples(channel, jpegs);
    if (samples.length < LEAST_SAMPLES) {
      throw new IllegalArgumentException(
          "only "
              + samples.length
              + " flat places were found that stay still; frame a scene with plain surfaces, on a"
              + " tripod, in light that does not change");
    }
    ResponseRecovery recovery = new ResponseRecovery(SMOOTHNESS * Math.sqrt(samples.length));
    ResponseRecovery.Curve curve = recovery.recover(samples, stops);
    return new CameraProfile.Channel(
        ToneResponse.measured(curve.light()),
        curve.residualStops(),
        curve.samples(),
        curve.lowestCode(),
        curve.highestCode(),
        headroom(channel, curve.light(), jpegs, raws));
  }

  /** The codes of the patches that are flat and still, and carry weight in two pictures or more. */
  private static int[][] samples(int channel, List<Picture> jpegs) {
    List<int[]> samples = new ArrayList<>();
    for (int patch = 0; patch < FlatPatches.PATCHES; patch++) {
      int[] codes = new int[jpegs.size()];
      boolean good = true;
      int telling = 0;
      for (int j = 0; j < codes.length; j++) {
        FlatPatches patches = jpegs.get(j).patches;
        codes[j] = patches.code(channel, patch);
        // A patch with a clipped pixel has a mean that is too low: it counts as clipped.
        codes[j] = patches.most(channel, patch) >= CLIPPED_FROM ? TOP : codes[j];
        good &= codes[j] == TOP || isFlat(patches, channel, patch);
        good &= j == 0 || codes[j] >= codes[j - 1] - FALLING_CODES;
        telling += ResponseRecovery.weight(codes[j]) > 0 ? 1 : 0;
      }
      if (good && telling >= 2) {
        samples.add(codes);
      }
    }
    return samples.toArray(int[][]::new);
  }

  private static boolean isFlat(FlatPatches patches, int channel, int patch) {
    return patches.most(channel, patch) - patches.least(channel, patch) <= FLAT_CODES;
  }

  /**
   * Each patch that is bright but not clipped says where the JPEG would clip in raw light: raw
   * light over the JPEG's own.
   */
  private static Optional<CameraProfile.Headroom> headroom(
      int channel, double[] light, List<Picture> jpegs, List<Picture> raws) {
    Map<String, Picture> rawOf = new HashMap<>();
    raws.forEach(raw -> rawOf.put(stem(raw.file), raw));
    double[] stops = new double[jpegs.size() * FlatPatches.PATCHES];
    int count = 0;
    for (Picture jpeg : jpegs) {
      Picture raw = rawOf.get(stem(jpeg.file));
      for (int patch = 0; patch < FlatPatches.PATCHES && raw != null; patch++) {
        double rawLight = raw.patches.light(channel, patch);
        boolean bright =
            jpeg.patches.least(channel, patch) >= HEADROOM_FROM_CODE
                && jpeg.patches.most(channel, patch) < CLIPPED_FROM
                && isFlat(jpeg.patches, channel, patch);
        if (bright && rawLight > 0 && rawLight < RAW_UNCLIPPED) {
          double own = light[jpeg.patches.code(channel, patch)];
          stops[count++] = Math.log(own / rawLight) / Math.log(2);
        }
      }
    }
    if (count < LEAST_HEADROOM_SAMPLES) {
      return Optional.empty();
    }
    double[] sorted = Arrays.copyOf(stops, count);
    Arrays.sort(sorted);
    double spread = (sorted[(int) (0.84 * count)] - sorted[(int) (0.16 * count)]) / 2;
    return Optional.of(new CameraProfile.Headroom(sorted[count / 2], spread, count));
  }

  private static String stem(Path file) {
    String name = file.getFileName().toString();
    int dot = name.lastIndexOf('.');
    return (dot > 0 ? name.substring(0, dot) : name).toLowerCase(Locale.ROOT);
  }
}

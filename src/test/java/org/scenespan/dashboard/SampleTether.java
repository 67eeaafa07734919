package org.scenespan.dashboard;

import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.Locale;
import java.util.Optional;
import javax.imageio.ImageIO;
import org.scenespan.frame.Patch;
import org.scenespan.session.Mark;

/** A tether's records as the program writes them, made for the page; it grants what is asked. */
final class SampleTether implements Acts {
  private static final String LEVELS =
      "\"levels\":{\"exposureStops\":{\"warn\":0.1,\"alarm\":0.2},\"colour\":{\"warn\":0.02,"
          + "\"alarm\":0.04},\"clipping\":{\"warn\":0.002,\"alarm\":0.01},\"sharpness\":{\"warn\":"
          + "0.3,\"alarm\":0.5}}";

  private static final byte[] PREVIEW = drawn(false);
  private static final byte[] MASK = drawn(true);

  private final GrowingRecords records;
  private int frames;
  private int releases;
  private Optional<String> kept = Optional.empty();

  SampleTether(GrowingRecords records) {
    this(records, "");
  }

  SampleTether(GrowingRecords records, String trigger) {
    this.records = records;
    records.append(
        "session-opened",
        "\"version\":1,\"kind\":\"tether\",\"session\":\"studio\",\"program\":\"test\","
            + "\"source\":\"camera\",\"trigger\":\""
            + trigger
            + "\",\"folder\":\"frames\",\"mostFrames\":0,"
            + LEVELS);
  }

  /** A grey picture with a bright corner under any name, and a mask that marks the corner. */
  static Optional<byte[]> picture(String name) {
    return Optional.of(name.startsWith("mask-") ? MASK : PREVIEW);
  }

  private static byte[] drawn(boolean mask) {
    BufferedImage image =
        new BufferedImage(
            1500, 1000, mask ? BufferedImage.TYPE_INT_ARGB : BufferedImage.TYPE_INT_RGB);
    Graphics2D brush = image.createGraphics();
    if (!mask) {
      brush.setColor(new Color(0x80807c));
      brush.fillRect(0, 0, 1500, 1000);
      brush.setColor(new Color(0x35302c));
      brush.fillRect(200, 500, 500, 400);
    }
    brush.setColor(mask ? Color.RED : Color.WHITE);
    brush.fillRect(1200, 0, 300, 200);
    brush.dispose();
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    try {
      ImageIO.write(image, mask ? "png" : "jpeg", out);
    } catch (IOException impossible) {
      throw new UncheckedIOException(impossible);
    }
    return out.toByteArray();
  }

  /** As the program's: the previews of records, and which of them may be shown to guests. */
  Pictures pictures() {
    return new Pictures() {
      @Override
      public Optional<byte[]> named(String name) {
        return picture(name);
      }

      @Override
      public Optional<String> latest() {
        return Optional.of(String.format(Locale.ROOT, "preview-F_%04d.JPG.jpg", frames));
      }

      @Override
      public Optional<String> latestKept() {
        return kept.map(file -> "preview-" + file + ".jpg");
      }
    };
  }

  /** A frame lands; the first one becomes the reference frame. */
  void land(double stops) {
    frames++;
    String file = String.format(Locale.ROOT, "F_%04d.JPG", frames);
    String deviation =
        String.format(
            Locale.ROOT,
            ",\"deviation\":{\"against\":\"F_0001.JPG\",\"exposure\":%.3f,\"whole\":%.3f,"
                + "\"redToGreen\":0.004,\"blueToGreen\":-0.012,\"patch\":{\"left\":0.3,\"top\":0.5,"
                + "\"width\":0.1,\"height\":0.12},\"patchSeen\":true}",
            stops,
            stops);
    records.append(
        "frame-watched",
        "\"index\":"
            + frames
            + (frames == 1 ? "" : deviation)
            + ",\"findings\":["
            + (frames == 1 ? "" : finding(stops))
            + "],\"frame\":{\"file\":\""
            + file
            + "\",\"preview\":\"preview-"
            + file
            + ".jpg\",\"mask\":\"mask-"
            + file
            + ".png\",\"width\":6000,\"height\":4000,\"shutterSeconds\":0.008,\"aperture\":8.0,"
            + "\"iso\":100,\"clippedFraction\":{\"red\":0.001,\"green\":0.0,\"blue\":0.0,"
            + "\"any\":0.001},\"histogramStops\":{\"from\":-16.0,\"binsPerStop\":6,\"counts\":"
            + counts(stops)
            + "},\"sharpness\":0.0123}");
    if (frames == 1) {
      reference(file, Optional.empty());
    }
  }

  private static String finding(double stops) {
    double size = Math.abs(stops);
    if (size < 0.1) {
      return "";
    }
    return String.format(
        Locale.ROOT,
        "{\"kind\":\"%s\",\"weight\":\"%s\",\"amount\":%.3f,\"words\":\"%s\"}",
        size >= 1 ? "misfire" : "exposure",
        size >= 0.2 ? "alarm" : "warning",
        stops,
        size >= 1
            ? String.format(
                Locale.ROOT,
                "The whole frame is %.1f stops darker than those before: a flash may not have"
                    + " fired.",
                size)
            : String.format(
                Locale.ROOT,
                "The patch is %.2f stops %s than in the reference frame.",
                size,
                stops > 0 ? "brighter" : "darker"));
  }

  private static String counts(double stops) {
    StringBuilder counts = new StringBuilder("[");
    for (int bin = 0; bin < 97; bin++) {
      double from = -16 + bin / 6.0 - stops;
      double share = Math.exp(-(from + 4) * (from + 4) / 6);
      counts.append(bin == 0 ? "" : ",").append(Math.round(1e5 * share) + (bin == 96 ? 900 : 0));
    }
    return counts.append(']').toString();
  }

  @Override
  public void hold() {
    throw new AssertionError("a tether is never held");
  }

  @Override
  public void goOn() {
    throw new AssertionError("a tether is never held");
  }

  @Override
  public void reference(String file, Optional<Patch> patch) {
    records.append(
        "reference-marked",
        "\"file\":\""
            + file
            + "\""
            + patch
                .map(
                    it ->
                        ",\"patch\":{\"left\":"
                            + it.left()
                            + ",\"top\":"
                            + it.top()
                            + ",\"width\":"
                            + it.width()
                            + ",\"height\":"
                            + it.height()
                            + "}")
                .orElse(""));
  }

  @Override
  public void mark(String file, Mark mark, String note) {
    if (mark == Mark.KEEP) {
      kept = Optional.of(file);
    }
    records.append(
        "frame-marked",
        "\"file\":\"" + file + "\",\"mark\":\"" + mark.label() + "\",\"note\":\"" + note + "\"");
  }

  @Override
  public Optional<String> release(int countSeconds) {
    releases++;
    records.append("release-asked", "\"shot\":" + releases + ",\"countSeconds\":" + countSeconds);
    return Optional.empty();
  }

  @Override
  public void withdraw() {
    records.append(
        "release-withdrawn", "\"shot\":" + releases + ",\"reason\":\"an operator took it back\"");
  }

  @Override
  public void stop() {
    records.append(
        "report",
        "\"kind\":\"tether\",\"stopped\":\"asked\",\"why\":\"You ended the session.\","
            + "\"reference\":\"F_0001.JPG\",\"frames\":[],\"elapsedSeconds\":12.0");
  }
}

package org.scenespan.folder;

import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import javax.imageio.ImageIO;
import org.scenespan.frame.CodeScale;
import org.scenespan.frame.Patch;
import org.scenespan.frame.PictureForm;
import org.scenespan.frame.PictureRows;
import org.scenespan.frame.ToneResponse;

/**
 * Cuts a part out of a frame on disk at its full size, upright, for an eye that looks closely. A
 * part of more than {@link #LONGEST} pixels is made smaller by leaving out rows and columns, so
 * that no more than 8 MB of pixels are ever held.
 */
public final class FrameDetail implements PictureRows {
  /** The most pixels of either side of what is cut. */
  public static final int LONGEST = 1600;

  private final Patch part;
  private int orientation;
  private int left;
  private int top;
  private int step;
  private int columns;
  private int lines;
  private int[] pixels;
  private byte[] codes;

  private FrameDetail(Patch part) {
    this.part = part;
  }

  /**
   * A part of a frame as a JPEG.
   *
   * @param part of the upright picture
   * @throws UnreadableFrame if the file is no frame, is damaged, or is of a kind that is not read
   */
  public static byte[] jpeg(Path file, Patch part) throws UnreadableFrame {
    FrameDetail detail = new FrameDetail(part);
    FramePixels.read(file, detail);
    BufferedImage cut =
        Preview.upright(
            detail.pixels,
            detail.columns,
            detail.lines,
            BufferedImage.TYPE_INT_RGB,
            detail.orientation);
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    try {
      ImageIO.write(cut, "jpeg", out);
    } catch (IOException impossible) {
      throw new UncheckedIOException(impossible);
    }
    return out.toByteArray();
  }

  @Override
  public void begin(PictureForm form) {
    orientation = form.metadata().orientation();
    Patch stored = stored(part, orientation);
    left = Math.min((int) Math.round(stored.left() * form.width()), form.width() - 1);
    top = Math.min((int) Math.round(stored.top() * form.height()), form.height() - 1);
    double right = (stored.left() + stored.width()) * form.width();
    double lower = (stored.top() + stored.height()) * form.height();
    int across = Math.max(1, Math.min(form.width(), (int) Math.round(right)) - left);
    int down = Math.max(1, Math.min(form.height(), (int) Math.round(lower)) - top);
    step = (Math.max(across, down) + LONGEST - 1) / LONGEST;
    columns = (across + step - 1) / step;
    lines = (down + step - 1) / step;
    pixels = new int[columns * lines];
    codes = displayed(form);
  }

  /** What the screen is sent for each of the picture's codes. */
  private static byte[] displayed(PictureForm form) {
    CodeScale scale = form.response();
    byte[] shown = new byte[scale.codes()];
    for (int code = 0; code < shown.length; code++) {
      double light = Math.max(0, Math.min(1, scale.light(code)));
      shown[code] = (byte) Math.round(255 * ToneResponse.linearToSrgb(light));
    }
    return shown;
  }

  @Override
  public void row(int y, short[] rgb) {
    int down = y - top;
    if (down < 0 || down % step != 0 || down / step >= lines) {
      return;
    }
    int at = down / step * columns;
    for (int column = 0; column < columns; column++) {
      int from = 3 * (left + column * step);
      pixels[at + column] =
          shown(rgb[from]) << 16 | shown(rgb[from + 1]) << 8 | shown(rgb[from + 2]);
    }
  }

  private int shown(short code) {
    return codes[code & 0xffff] & 0xff;
  }

  /** Where a part of the upright picture lies in the stored one (CIPA DC-008, Orientation). */
  static Patch stored(Patch upright, int orientation) {
    double x = upright.left();
    double y = upright.top();
    double w = upright.width();
    double h = upright.height();
    double otherX = Math.max(0, 1 - x - w);
    double otherY = Math.max(0, 1 - y - h);
    return switch (orientation) {
      case 2 -> new Patch(otherX, y, w, h);
      case 3 -> new Patch(otherX, otherY, w, h);
      case 4 -> new Patch(x, otherY, w, h);
      case 5 -> new Patch(y, x, h, w);
      case 6 -> new Patch(y, otherX, h, w);
      case 7 -> new Patch(otherY, otherX, h, w);
      case 8 -> new Patch(otherY, x, h, w);
      default -> upright;
    };
  }
}

package org.scenespan.proof.report;

import java.awt.Graphics2D;
import java.awt.RenderingHints;
import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Base64;
import java.util.Optional;
import javax.imageio.ImageIO;

/** Pictures of a contact sheet, made from a session's previews and carried in the page itself. */
final class SmallPictures {
  /** On four columns of an A4 page that is about 200 pixels to the inch. */
  private static final int MOST_SIDE = 320;

  private final Path previews;

  /**
   * @param previews where the session keeps them
   */
  SmallPictures(Path previews) {
    this.previews = previews;
  }

  /** A preview as a {@code data:} address, or nothing where there is none that can be read. */
  Optional<String> address(String preview) {
    Path file = previews.resolve(preview).normalize();
    if (!file.startsWith(previews.normalize()) || !Files.isRegularFile(file)) {
      return Optional.empty();
    }
    try {
      BufferedImage whole = ImageIO.read(file.toFile());
      if (whole == null) {
        return Optional.empty();
      }
      ByteArrayOutputStream bytes = new ByteArrayOutputStream();
      if (!ImageIO.write(reduced(whole), "jpeg", bytes)) {
        return Optional.empty();
      }
      String coded = Base64.getEncoder().encodeToString(bytes.toByteArray());
      return Optional.of("data:image/jpeg;base64," + coded);
    } catch (IOException damaged) {
      return Optional.empty();
    }
  }

  /** Halved until one more step is enough, so that no pixel of the preview is passed over. */
  private static BufferedImage reduced(BufferedImage whole) {
    BufferedImage picture = whole;
    while (true) {
      int longer = Math.max(picture.getWidth(), picture.getHeight());
      double factor = Math.max(0.5, Math.min(1, (double) MOST_SIDE / longer));
      int width = Math.max(1, (int) Math.round(picture.getWidth() * factor));
      int height = Math.max(1, (int) Math.round(picture.getHeight() * factor));
      BufferedImage smaller = new BufferedImage(width, height, BufferedImage.TYPE_INT_RGB);
      Graphics2D pen = smaller.createGraphics();
      pen.setRenderingHint(
          RenderingHints.KEY_INTERPOLATION, RenderingHints.VALUE_INTERPOLATION_BILINEAR);
      pen.drawImage(picture, 0, 0, width, height, null);
      pen.dispose();
      picture = smaller;
      if (Math.max(width, height) <= MOST_SIDE) {
        return picture;
      }
    }
  }
}

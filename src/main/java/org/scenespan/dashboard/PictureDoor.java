package org.scenespan.dashboard;

import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import io.javalin.http.NotFoundResponse;
import java.io.IOException;
import java.util.concurrent.Semaphore;
import java.util.function.Supplier;
import java.util.regex.Pattern;
import org.scenespan.frame.Patch;

/** The requests for pictures: previews and masks, small ones, and parts of frames at full size. */
final class PictureDoor {
  /** Pictures on their way to slow browsers elsewhere at once: each holds a thread. */
  static final int MOST_REMOTE_PICTURES = 8;

  /** Parts of frames that are cut or wait for it at once. */
  static final int MOST_DETAILS = 4;

  private static final Pattern PICTURE_NAME = Pattern.compile("[A-Za-z0-9_-][A-Za-z0-9_.-]{0,79}");
  private static final Pattern PART = Pattern.compile("[01]|0\\.[0-9]{1,12}");

  private final Pictures pictures;
  private final Pictures small;
  private final Supplier<Door> door;
  private final Semaphore details = new Semaphore(MOST_DETAILS);
  private final Semaphore remotePictures = new Semaphore(MOST_REMOTE_PICTURES);

  PictureDoor(Pictures pictures, Supplier<Door> door) {
    this.pictures = pictures;
    this.small = new SmallPictures(pictures);
    this.door = door;
  }

  void add(RoutesConfig routes) {
    routes.get("/previews/{name}", this::picture);
    routes.get("/frames/{name}", this::detail);
  }

  private void picture(Context ctx) throws IOException {
    Door here = door.get();
    here.admitLook(ctx);
    String name = ctx.pathParam("name");
    String type = typeOf(name);
    if (!PICTURE_NAME.matcher(name).matches() || type == null) {
      throw new NotFoundResponse();
    }
    byte[] bytes =
        (ctx.queryParam("small") == null ? pictures : small)
            .named(name)
            .orElseThrow(NotFoundResponse::new);
    send(ctx, bytes, type);
  }

  /** A part of a frame at full size; few at once, since each costs a whole frame's decoding. */
  private void detail(Context ctx) throws IOException {
    door.get().admitLook(ctx);
    Patch part;
    try {
      part =
          new Patch(
              number(ctx, "left"), number(ctx, "top"), number(ctx, "width"), number(ctx, "height"));
    } catch (IllegalArgumentException wrong) {
      throw Door.refusal(400, wrong.getMessage());
    }
    if (!details.tryAcquire()) {
      ctx.header("Retry-After", "1");
      throw Door.refusal(503, "too many frames are being looked into");
    }
    byte[] bytes;
    try {
      bytes = pictures.part(ctx.pathParam("name"), part).orElseThrow(NotFoundResponse::new);
    } finally {
      details.release();
    }
    send(ctx, bytes, "image/jpeg");
  }

  private static double number(Context ctx, String name) {
    String value = ctx.queryParam(name);
    if (value == null || !PART.matcher(value).matches()) {
      throw new IllegalArgumentException(name + " must be a number from 0 to 1");
    }
    return Double.parseDouble(value);
  }

  /** Writes a picture, if not too many are on their way to slow browsers elsewhere. */
  void send(Context ctx, byte[] bytes, String type) throws IOException {
    boolean remote = !door.get().isLocal(ctx);
    if (remote && !remotePictures.tryAcquire()) {
      ctx.header("Retry-After", "1");
      throw Door.refusal(503, "too many pictures are on their way");
    }
    try {
      // Written here, not after this returns: the place is held as long as the thread is.
      ctx.contentType(type);
      ctx.res().setContentLength(bytes.length);
      ctx.res().getOutputStream().write(bytes);
    } finally {
      if (remote) {
        remotePictures.release();
      }
    }
  }

  private static String typeOf(String name) {
    if (name.endsWith(".jpg")) {
      return "image/jpeg";
    }
    return name.endsWith(".png") ? "image/png" : null;
  }
}

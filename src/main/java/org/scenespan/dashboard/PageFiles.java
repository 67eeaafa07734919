package org.scenespan.dashboard;

import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.io.ByteArrayOutputStream;
import java.io.FileNotFoundException;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import java.util.zip.CRC32;
import java.util.zip.GZIPOutputStream;

/**
 * The scripts and style sheets that the pages name, each answered with all that it imports: half of
 * the time of a page's first opening went into sixty requests. What they are joined from can still
 * be had file by file.
 */
final class PageFiles {
  static final List<String> SCRIPTS = List.of("main.js", "guest.js", "plan.js");
  static final List<String> SHEETS =
      List.of("styles/index.css", "styles/guest.css", "styles/plan.css");

  /** A weight of nothing refuses it (RFC 9110, 12.4.2). */
  private static final Pattern GZIP =
      Pattern.compile("\\bgzip\\b(?!\\s*;\\s*q=0(?:\\.0*)?(?![.0-9]))");

  /** Joined and compressed at the first request, once for all servers of the program. */
  private static final Map<String, PageFile> FILES = new ConcurrentHashMap<>();

  /**
   * @param tag tells one content from another; weak, since it stands for the plain and for the
   *     compressed bytes (RFC 9110, 8.8.1)
   */
  private record PageFile(String type, byte[] plain, byte[] compressed, String tag) {
    static PageFile of(String type, String text) {
      byte[] plain = text.getBytes(StandardCharsets.UTF_8);
      CRC32 sum = new CRC32();
      sum.update(plain);
      String tag = "W/\"" + Long.toHexString(sum.getValue()) + "\"";
      return new PageFile(type, plain, PageFiles.compressed(plain), tag);
    }
  }

  private PageFiles() {}

  static void add(RoutesConfig routes) {
    for (String name : names()) {
      routes.get("/" + name, ctx -> answer(ctx, file(name)));
      // The server leaves the body out by itself.
      routes.head("/" + name, ctx -> answer(ctx, file(name)));
    }
  }

  static List<String> names() {
    return Stream.concat(SCRIPTS.stream(), SHEETS.stream()).toList();
  }

  private static PageFile file(String name) {
    return FILES.computeIfAbsent(
        name,
        each ->
            SCRIPTS.contains(each)
                ? PageFile.of("text/javascript", Joined.script(each, PageFiles::text))
                : PageFile.of("text/css", Joined.sheet(each, PageFiles::text)));
  }

  private static void answer(Context ctx, PageFile file) throws IOException {
    ctx.header("Vary", "Accept-Encoding");
    ctx.header("ETag", file.tag());
    String known = ctx.header("If-None-Match");
    if (known != null && List.of(known.split("\\s*,\\s*")).contains(file.tag())) {
      ctx.status(304);
      return;
    }
    String accepted = ctx.header("Accept-Encoding");
    boolean compressed = accepted != null && GZIP.matcher(accepted).find();
    if (compressed) {
      ctx.header("Content-Encoding", "gzip");
    }
    byte[] bytes = compressed ? file.compressed() : file.plain();
    ctx.contentType(file.type() + "; charset=utf-8");
    ctx.res().setContentLength(bytes.length);
    ctx.res().getOutputStream().write(bytes);
  }

  /** The text of one of the page's own files. */
  static String text(String name) {
    try (InputStream in = PageFiles.class.getResourceAsStream("/web/" + name)) {
      if (in == null) {
        throw new FileNotFoundException("/web/" + name);
      }
      return new String(in.readAllBytes(), StandardCharsets.UTF_8);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static byte[] compressed(byte[] plain) {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    try (GZIPOutputStream packing = new GZIPOutputStream(out)) {
      packing.write(plain);
    } catch (IOException e) {
      throw new UncheckedIOException("memory cannot fail", e);
    }
    return out.toByteArray();
  }
}

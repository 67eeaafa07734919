package org.scenespan.dashboard;

import java.io.IOException;
import java.io.InputStream;
import java.net.HttpURLConnection;
import java.net.Proxy;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * The first requests for the page and all that it links, made by the program itself. A server that
 * has answered none yet takes most of a second for them, which the first browser would wait for.
 */
final class FirstRequests implements AutoCloseable {
  private static final int PATIENCE_MILLIS = 5_000;
  private static final Pattern LINKED = Pattern.compile("\\s(?:href|src)=\"([^\"#]+)\"");

  /** Code that has run once is warm for every later server of the program. */
  private static final AtomicBoolean MADE = new AtomicBoolean();

  private final Thread thread;

  /** Makes them on a thread of its own. Whether they are answered is not looked at. */
  FirstRequests(String address) {
    thread = new Thread(() -> make(address), "dashboard-first");
    thread.setDaemon(true);
    thread.start();
  }

  /** Waits for the one that is under way: a server that stops meanwhile would log that. */
  @Override
  public void close() {
    thread.interrupt();
    try {
      thread.join(PATIENCE_MILLIS);
    } catch (InterruptedException hurry) {
      Thread.currentThread().interrupt();
    }
  }

  private static void make(String address) {
    if (MADE.getAndSet(true)) {
      return;
    }
    try (InputStream page = FirstRequests.class.getResourceAsStream("/web/index.html")) {
      ask(address);
      Matcher linked = LINKED.matcher(new String(page.readAllBytes(), StandardCharsets.UTF_8));
      while (linked.find() && !Thread.currentThread().isInterrupted()) {
        ask(address + linked.group(1));
      }
    } catch (IOException closed) {
      // The page was closed again: nothing is lost.
    }
  }

  private static void ask(String address) throws IOException {
    HttpURLConnection line =
        (HttpURLConnection) URI.create(address).toURL().openConnection(Proxy.NO_PROXY);
    line.setConnectTimeout(PATIENCE_MILLIS);
    line.setReadTimeout(PATIENCE_MILLIS);
    // As browsers do.
    line.setRequestProperty("Accept-Encoding", "gzip");
    // Where this machine has to enter a code too, the answers are refused, the files are not.
    if (line.getResponseCode() == HttpURLConnection.HTTP_OK) {
      try (InputStream answer = line.getInputStream()) {
        answer.readAllBytes();
      }
    }
  }
}

package org.scenespan.fuzz;

import com.google.common.jimfs.Configuration;
import com.google.common.jimfs.Jimfs;
import java.io.IOException;
import java.net.InetAddress;
import java.net.Socket;
import java.net.SocketException;
import java.net.SocketTimeoutException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Optional;
import java.util.function.LongConsumer;
import org.scenespan.dashboard.Acts;
import org.scenespan.dashboard.Dashboard;
import org.scenespan.dashboard.Pictures;
import org.scenespan.dashboard.Records;
import org.scenespan.frame.Patch;
import org.scenespan.session.Mark;

/** Requests to the page's server over a real socket; none is answered with a fault of ours. */
final class RequestTarget implements Target {
  /** Within this much the server has to begin its answer, or close, milliseconds. */
  private static final int LONGEST_MILLIS = 2_000;

  private final Dashboard dashboard;

  RequestTarget() throws IOException {
    Records records =
        new Records() {
          @Override
          public List<String> since(long seq) {
            return seq > 0 ? List.of() : List.of("{\"seq\":1}");
          }

          @Override
          public void listen(LongConsumer onNewSeq) {}
        };
    Acts acts =
        new Acts() {
          @Override
          public void hold() {}

          @Override
          public void goOn() {}

          @Override
          public void reference(String file, Optional<Patch> patch) {}

          @Override
          public void mark(String file, Mark mark, String note) {}

          @Override
          public void stop() {}
        };
    dashboard =
        new Dashboard(
            0,
            records,
            acts,
            Pictures.in(Jimfs.newFileSystem(Configuration.unix()).getPath("/previews")));
  }

  @Override
  public List<byte[]> seeds() {
    String host = "Host: 127.0.0.1:" + dashboard.port() + "\r\n";
    return List.of(
        bytes("GET / HTTP/1.1\r\n" + host + "Connection: close\r\n\r\n"),
        bytes("GET /previews/a.jpg HTTP/1.1\r\n" + host + "Connection: close\r\n\r\n"),
        bytes(
            "POST /api/hold HTTP/1.1\r\n"
                + host
                + "Content-Type: application/json\r\nContent-Length: 2\r\n"
                + "Connection: close\r\n\r\n{}"),
        bytes(
            "GET /api/events HTTP/1.1\r\n"
                + host
                + "Last-Event-ID: 1\r\nConnection: close\r\n\r\n"));
  }

  private static byte[] bytes(String text) {
    return text.getBytes(StandardCharsets.ISO_8859_1);
  }

  @Override
  public List<String> words() {
    return List.of(
        "\r\n",
        "../",
        "%2e%2e%2f",
        "%00",
        "%",
        "Content-Length: 99999999999\r\n",
        "Transfer-Encoding: chunked\r\n",
        "Host: example.org\r\n",
        "Expect: 100-continue\r\n",
        "Origin: null\r\n",
        "HTTP/0.9",
        "OPTIONS ",
        "\0",
        "?since=-1",
        "a: b\r\n");
  }

  @Override
  public Shape shape() {
    return new LinesShape();
  }

  @Override
  public void feed(byte[] input) throws IOException {
    try {
      ask(input);
    } catch (SocketTimeoutException perhapsBusy) {
      // Another go tells a request that is never answered from a machine that is busy.
      ask(input);
    }
  }

  private void ask(byte[] input) throws IOException {
    try (Socket socket = new Socket(InetAddress.getLoopbackAddress(), dashboard.port())) {
      socket.setSoTimeout(LONGEST_MILLIS);
      byte[] answer = new byte[32];
      int count;
      try {
        socket.getOutputStream().write(input);
        socket.shutdownOutput();
        count = socket.getInputStream().read(answer);
      } catch (SocketException closed) {
        return; // A server may hang up on nonsense.
      }
      String status = new String(answer, 0, Math.max(0, count), StandardCharsets.ISO_8859_1);
      if (status.startsWith("HTTP/1.1 500")) {
        throw new IOException("answered with " + status);
      }
    }
  }

  @Override
  public void close() {
    dashboard.close();
  }
}

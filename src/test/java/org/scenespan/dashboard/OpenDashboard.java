package org.scenespan.dashboard;

import java.io.IOException;
import java.net.InetAddress;
import java.net.Socket;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublisher;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CopyOnWriteArrayList;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.scenespan.frame.Patch;
import org.scenespan.session.Mark;

/** A dashboard that is open, its journal in memory, and a client's hands. */
@Timeout(30)
abstract class OpenDashboard {
  @TempDir Path folder;

  final GrowingRecords records = new GrowingRecords();
  final List<String> asked = new CopyOnWriteArrayList<>();
  final HttpClient client = HttpClient.newBuilder().version(HttpClient.Version.HTTP_1_1).build();
  Dashboard dashboard;

  @BeforeEach
  void open() throws IOException {
    Path previews = Files.createDirectory(folder.resolve("previews"));
    Files.write(previews.resolve("preview-SCN_0001.jpg"), new byte[] {1, 2, 3});
    Files.write(previews.resolve("notes.txt"), new byte[] {4});
    Files.write(folder.resolve("secret.jpg"), new byte[] {5});
    dashboard = new Dashboard(0, records, new AskedActs(asked), Pictures.in(previews));
  }

  @AfterEach
  void close() {
    dashboard.close();
  }

  record AskedActs(List<String> asked) implements Acts {
    @Override
    public void hold() {
      asked.add("hold");
    }

    @Override
    public void goOn() {
      asked.add("continue");
    }

    @Override
    public void reference(String file, Optional<Patch> patch) {
      asked.add("reference " + file + patch.map(it -> " " + it.left()).orElse(""));
    }

    @Override
    public void mark(String file, Mark mark, String note) {
      asked.add("mark " + file + " " + mark.label() + " " + note);
    }

    /** Ten seconds are more than this session has. */
    @Override
    public Optional<String> release(int countSeconds) {
      if (countSeconds == 10) {
        return Optional.of("the session has ended");
      }
      asked.add("release " + countSeconds);
      return Optional.empty();
    }

    @Override
    public void withdraw() {
      asked.add("withdraw");
    }

    @Override
    public void stop() {
      asked.add("stop");
    }
  }

  String at(String path) {
    return dashboard.address() + path;
  }

  HttpResponse<String> get(String path) throws Exception {
    return client.send(
        HttpRequest.newBuilder(URI.create(at(path))).build(), BodyHandlers.ofString());
  }

  HttpResponse<String> post(String path, BodyPublisher body, String... headers) throws Exception {
    HttpRequest.Builder request = HttpRequest.newBuilder(URI.create(at(path))).POST(body);
    if (headers.length > 0) {
      request.headers(headers);
    }
    return client.send(request.build(), BodyHandlers.ofString());
  }

  /** Sends bytes as they are and gives the whole answer back. */
  String raw(String request) throws IOException {
    try (Socket socket = new Socket(InetAddress.getLoopbackAddress(), dashboard.port())) {
      socket.getOutputStream().write(request.getBytes(StandardCharsets.ISO_8859_1));
      return new String(socket.getInputStream().readAllBytes(), StandardCharsets.ISO_8859_1);
    }
  }
}

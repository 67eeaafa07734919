package org.scenespan.dashboard;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.time.Duration;

/** The client's end of one event stream. */
final class EventStream implements AutoCloseable {
  /** One event; the id is empty for a pulse. */
  record Event(String name, String id, String data) {}

  private final HttpResponse<InputStream> response;
  private final BufferedReader reader;

  private EventStream(HttpResponse<InputStream> response) {
    this.response = response;
    this.reader =
        new BufferedReader(new InputStreamReader(response.body(), StandardCharsets.UTF_8));
  }

  static EventStream open(HttpClient client, String address, String... headers) throws Exception {
    HttpRequest.Builder request =
        HttpRequest.newBuilder(URI.create(address)).timeout(Duration.ofSeconds(10));
    if (headers.length > 0) {
      request.headers(headers);
    }
    return new EventStream(client.send(request.build(), HttpResponse.BodyHandlers.ofInputStream()));
  }

  HttpResponse<InputStream> response() {
    return response;
  }

  /** The next event, null at the end of the stream. */
  Event next() throws IOException {
    String name = "message";
    String id = "";
    String data = null;
    for (String line = reader.readLine(); line != null; line = reader.readLine()) {
      if (line.isEmpty() && data != null) {
        return new Event(name, id, data);
      }
      if (line.startsWith("event: ")) {
        name = line.substring(7);
      } else if (line.startsWith("id: ")) {
        id = line.substring(4);
      } else if (line.startsWith("data: ")) {
        data = line.substring(6);
      }
    }
    return null;
  }

  /** The next record, past the pulses. */
  Event nextRecord() throws IOException {
    Event event = next();
    while (event != null && event.name().equals("pulse")) {
      event = next();
    }
    return event;
  }

  /** Whether it ends without another record: by its end, or cut off as the server goes. */
  boolean ends() {
    try {
      return nextRecord() == null;
    } catch (IOException cut) {
      return true;
    }
  }

  @Override
  public void close() throws IOException {
    reader.close();
  }
}

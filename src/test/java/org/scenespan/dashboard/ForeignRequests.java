package org.scenespan.dashboard;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.net.URI;
import java.util.ArrayList;
import java.util.List;

/** What a page asked of addresses that are not this machine's. */
final class ForeignRequests {
  private static final ObjectMapper MAPPER = new ObjectMapper();

  /**
   * A session's page asks for more than this of files and answers; one that asked less was not
   * seen.
   */
  private static final int LEAST_ASKED = 12;

  private ForeignRequests() {}

  /**
   * @param network what the browser told of its network
   * @throws AssertionError if it tells of too few requests for a page
   */
  static List<String> in(List<String> network) throws JsonProcessingException {
    return in(network, LEAST_ASKED);
  }

  /**
   * @param least requests that the page makes however fast it is looked at
   */
  static List<String> in(List<String> network, int least) throws JsonProcessingException {
    List<String> foreign = new ArrayList<>();
    int asked = 0;
    for (String line : network) {
      JsonNode message = MAPPER.readTree(line).path("message");
      if (!message.path("method").asText().equals("Network.requestWillBeSent")) {
        continue;
      }
      asked++;
      URI address = URI.create(message.path("params").path("request").path("url").asText());
      boolean ours = String.valueOf(address.getHost()).matches("127[.]0[.]0[.][0-9]+");
      if (!ours && !List.of("data", "blob").contains(address.getScheme())) {
        foreign.add(address.toString());
      }
    }
    if (asked < least) {
      throw new AssertionError(asked + " requests were seen");
    }
    return foreign;
  }
}

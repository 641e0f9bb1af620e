package milewarden.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.BufferedReader;
import java.io.InputStreamReader;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.atomic.AtomicReference;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;

/** Streams of server-sent events against their form in WHATWG HTML, 9.2.5. */
@Timeout(60)
final class LiveTest {
  private final AtomicReference<String> state = new AtomicReference<>("a");
  private final Live live = new Live(state::get);
  private final HttpClient client = HttpClient.newHttpClient();

  private WebServer start() {
    return WebServer.start(new WebSettings(0), new Renderer(), List.of(live));
  }

  private BufferedReader listen(WebServer server) throws Exception {
    HttpResponse<java.io.InputStream> answer =
        client.send(
            HttpRequest.newBuilder(URI.create(server.address() + "live"))
                .header("Accept", "text/event-stream")
                .timeout(Duration.ofSeconds(30))
                .build(),
            BodyHandlers.ofInputStream());
    assertThat(answer.statusCode()).isEqualTo(200);
    assertThat(answer.headers().firstValue("content-type").orElse(""))
        .startsWith("text/event-stream");
    return new BufferedReader(new InputStreamReader(answer.body(), StandardCharsets.UTF_8));
  }

  /**
   * The next event that a browser would dispatch, name and data; those without data are none
   * (WHATWG HTML, 9.2.6).
   */
  private static String next(BufferedReader stream) throws Exception {
    String name = "message";
    String data = "";
    for (String line = stream.readLine(); line != null; line = stream.readLine()) {
      if (line.startsWith("event:")) name = line.substring("event:".length()).strip();
      if (line.startsWith("data:")) data += line.substring("data:".length()).strip();
      if (!line.isEmpty()) continue;
      if (!data.isEmpty()) return name + " " + data;
      name = "message";
    }
    return "end";
  }

  @Test
  void whoComesHearsTheStateAndThenEachChange() throws Exception {
    try (WebServer server = start();
        BufferedReader stream = listen(server)) {
      String first = next(stream);
      assertThat(first).matches("state [0-9a-f]{16}");
      state.set("b");
      live.look();
      String second = next(stream);
      assertThat(second).matches("state [0-9a-f]{16}").isNotEqualTo(first);
      state.set("a");
      live.look();
      assertThat(next(stream)).isEqualTo(first);
    }
  }

  @Test
  void theStateIsSaidAgainThoughNothingChanged() throws Exception {
    try (WebServer server = start();
        BufferedReader stream = listen(server)) {
      String first = next(stream);
      for (int i = 0; i <= Live.LOOKS_BEFORE_PING; i++) live.look();
      // The first look can't know what the page heard, the last one repeats it.
      assertThat(next(stream)).isEqualTo(first);
      assertThat(next(stream)).isEqualTo(first);
    }
  }

  @Test
  void whoLeftKeepsNobodyElseFromHearing() throws Exception {
    try (WebServer server = start()) {
      for (int i = 0; i < 5; i++)
        try (BufferedReader gone = listen(server)) {
          assertThat(next(gone)).startsWith("state ");
        }
      try (BufferedReader stream = listen(server)) {
        String before = next(stream);
        // Each change is told while the streams that were left break, one after another.
        for (String now : List.of("b", "c", "d", "e")) {
          state.set(now);
          live.look();
          String heard = next(stream);
          assertThat(heard).startsWith("state ").isNotEqualTo(before);
          before = heard;
        }
        assertThat(live.listeners()).isEqualTo(1);
      }
    }
  }

  @Test
  void tooManyAreToldSo() throws Exception {
    try (WebServer server = start()) {
      List<BufferedReader> streams = new ArrayList<>();
      for (int i = 0; i < Live.STREAMS; i++) {
        BufferedReader stream = listen(server);
        assertThat(next(stream)).startsWith("state ");
        streams.add(stream);
      }
      BufferedReader beyond = listen(server);
      assertThat(next(beyond)).isEqualTo("full full");
      assertThat(next(beyond)).isEqualTo("end");
      assertThat(live.listeners()).isEqualTo(Live.STREAMS);
      state.set("b");
      live.look();
      for (BufferedReader stream : streams) assertThat(next(stream)).startsWith("state ");
      for (BufferedReader stream : streams) stream.close();
    }
  }

  @Test
  void closingEndsEveryStream() throws Exception {
    try (WebServer server = start();
        BufferedReader stream = listen(server)) {
      assertThat(next(stream)).startsWith("state ");
      live.close();
      assertThat(next(stream)).isEqualTo("end");
      assertThat(live.listeners()).isZero();
    }
  }
}

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

  /** The next event's name, or the next comment with its colon. */
  private static String next(BufferedReader stream) throws Exception {
    for (String line = stream.readLine(); line != null; line = stream.readLine()) {
      if (line.startsWith("event:")) return line.substring("event:".length()).strip();
      if (line.startsWith(":")) return line;
    }
    return "end";
  }

  @Test
  void aChangeIsToldOnceToWhoListens() throws Exception {
    try (WebServer server = start();
        BufferedReader stream = listen(server)) {
      assertThat(next(stream)).startsWith(":");
      live.look();
      // The first look can't know what the page saw.
      assertThat(next(stream)).isEqualTo("changed");
      live.look();
      state.set("b");
      live.look();
      assertThat(next(stream)).isEqualTo("changed");
      // Unchanged looks say nothing but, now and then, that the stream stands.
      for (int i = 0; i < 30; i++) live.look();
      assertThat(next(stream)).startsWith(":");
    }
  }

  @Test
  void tooManyAreToldSoAndOneThatEndedMakesRoom() throws Exception {
    try (WebServer server = start()) {
      List<BufferedReader> streams = new ArrayList<>();
      for (int i = 0; i < Live.STREAMS; i++) {
        BufferedReader stream = listen(server);
        assertThat(next(stream)).startsWith(":");
        streams.add(stream);
      }
      BufferedReader beyond = listen(server);
      assertThat(next(beyond)).isEqualTo("full");
      assertThat(next(beyond)).isEqualTo("end");
      assertThat(live.listeners()).isEqualTo(Live.STREAMS);
      live.look();
      for (BufferedReader stream : streams) assertThat(next(stream)).isEqualTo("changed");
      for (BufferedReader stream : streams) stream.close();
    }
  }

  @Test
  void closingEndsEveryStream() throws Exception {
    try (WebServer server = start();
        BufferedReader stream = listen(server)) {
      assertThat(next(stream)).startsWith(":");
      live.close();
      assertThat(next(stream)).isEqualTo("end");
      assertThat(live.listeners()).isZero();
    }
  }
}

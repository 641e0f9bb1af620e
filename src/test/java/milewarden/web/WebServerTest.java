package milewarden.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.InputStream;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CountDownLatch;
import org.junit.jupiter.api.Test;

final class WebServerTest {
  private final HttpClient client = HttpClient.newHttpClient();

  @Test
  void anEmptyStoreShowsTheThreeSteps() throws Exception {
    try (WebServer server = Gallery.start(0)) {
      HttpResponse<String> page = get(server.address());
      assertThat(page.statusCode()).isEqualTo(200);
      assertThat(page.headers().firstValue("content-type")).hasValue("text/html;charset=utf-8");
      assertThat(page.body()).contains("A reference course", "A drop", "Its tags");
    }
  }

  @Test
  void stylesScriptsAndLibrariesComeFromTheProgramItself() throws Exception {
    try (WebServer server = Gallery.start(0)) {
      for (String asset :
          new String[] {
            "assets/milewarden.css",
            "assets/milestone.svg",
            "assets/pages.js",
            "assets/charts.js",
            "assets/plot.umd.min.js",
            "assets/plot.LICENSE.txt",
            "webjars/d3/7.9.0/dist/d3.min.js"
          }) assertThat(get(server.address() + asset).statusCode()).as(asset).isEqualTo(200);
    }
  }

  @Test
  void dataInAScriptElementCannotEndIt() {
    assertThat(new Renderer().toJson(java.util.Map.of("a", "</script><!--")))
        .doesNotContain("<")
        .doesNotContain(">");
  }

  @Test
  void itSaysWhileAnAnswerIsBeingMade() throws Exception {
    CountDownLatch asked = new CountDownLatch(1);
    CountDownLatch answer = new CountDownLatch(1);
    Routes slow =
        config ->
            config.routes.get(
                "/slow",
                http -> {
                  asked.countDown();
                  answer.await();
                });
    try (WebServer server = WebServer.start(new WebSettings(0), new Renderer(), List.of(slow))) {
      untilAtRest(server);
      CompletableFuture<HttpResponse<String>> page =
          client.sendAsync(
              HttpRequest.newBuilder(URI.create(server.address() + "slow")).build(),
              HttpResponse.BodyHandlers.ofString());
      asked.await();
      // Longer than the half second that counts after a question.
      long start = System.nanoTime();
      while (System.nanoTime() - start < 700_000_000L) {
        assertThat(server.isAnswering()).isTrue();
        Thread.onSpinWait();
      }
      answer.countDown();
      page.join();
      assertThat(server.isAnswering()).isTrue();
      untilAtRest(server);
    }
  }

  @Test
  void aPageThatListensForChangesIsNoAnswer() throws Exception {
    Live live = new Live(() -> "a");
    try (WebServer server = WebServer.start(new WebSettings(0), new Renderer(), List.of(live))) {
      HttpResponse<InputStream> stream =
          client.send(
              HttpRequest.newBuilder(URI.create(server.address() + "live"))
                  .header("Accept", "text/event-stream")
                  .build(),
              HttpResponse.BodyHandlers.ofInputStream());
      try (InputStream open = stream.body()) {
        assertThat(open.read()).isPositive();
        assertThat(live.listeners()).isEqualTo(1);
        untilAtRest(server);
        assertThat(live.listeners()).isEqualTo(1);
      }
    }
  }

  private static void untilAtRest(WebServer server) throws InterruptedException {
    long start = System.nanoTime();
    while (server.isAnswering()) {
      assertThat(System.nanoTime() - start).isLessThan(30_000_000_000L);
      Thread.sleep(10);
    }
  }

  private HttpResponse<String> get(String address) throws IOException, InterruptedException {
    return client.send(
        HttpRequest.newBuilder(URI.create(address)).build(), HttpResponse.BodyHandlers.ofString());
  }
}

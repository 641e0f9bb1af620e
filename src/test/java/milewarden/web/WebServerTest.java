package milewarden.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
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

  private HttpResponse<String> get(String address) throws IOException, InterruptedException {
    return client.send(
        HttpRequest.newBuilder(URI.create(address)).build(), HttpResponse.BodyHandlers.ofString());
  }
}

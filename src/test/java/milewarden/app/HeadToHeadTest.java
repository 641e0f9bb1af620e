package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.file.Path;
import java.time.InstantSource;
import milewarden.store.Database;
import milewarden.store.run.Runs;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Two models that were carried together, as page and as JSON, through the whole program. */
final class HeadToHeadTest {
  @TempDir private Path folder;

  @Test
  void twoModelsCarriedTogetherStandHeadToHead() throws Exception {
    Season season = new Season(folder);
    try (App app = new App(season.config, InstantSource.system()).start();
        Database look = season.look()) {
      assertThat(get(app, "head-to-head").body()).contains("Two models or more");
      StringBuilder rows = new StringBuilder();
      // Of 400 m: +0.25, +0.50, +0.75, +0.50 % and, 2 m longer each, 0.5 points more.
      String[] first = {"0.401", "0.402", "0.403", "0.402"};
      String[] second = {"0.403", "0.404", "0.405", "0.404"};
      for (int i = 0; i < first.length; i++) {
        rows.append(Household.row("B" + i, Household.day(i), "", "1.0", first[i]));
        rows.append(
            Household.row("B" + i, Household.day(i), "", "2.0", second[i]).replace("K1", "Wren"));
      }
      season.house.dropSheet("all/session.csv", rows.toString());
      Await.until("eight runs", () -> look.read(Runs::count), () -> look.read(Runs::count) == 8);
      Season.atRest(look);

      JsonNode json = new ObjectMapper().readTree(get(app, "api/v1/head-to-head").body());
      assertThat(json.get("common")).hasSize(1);
      assertThat(json.get("models")).hasSize(2);
      JsonNode pair = json.get("pairs").get(0);
      assertThat(pair.get("sessionsTogether").asInt()).isEqualTo(4);
      assertThat(pair.get("paired").get("percent").asDouble()).isCloseTo(-0.5, within(1e-9));

      HttpResponse<String> page = get(app, "head-to-head?models=K1,Wren@2.0");
      assertThat(page.statusCode()).isEqualTo(200);
      assertThat(page.body())
          .contains("they can be told apart")
          .contains("K1 less Wren")
          .contains("carried together: session by session")
          // The means of the very sessions: (0.25 + 0.50 + 0.75 + 0.50) / 4, and 0.5 more.
          .containsPattern("\\+0[.]50*.% less \\+1[.]00*.% in these 4.sessions")
          .contains("data-chart=\"headtohead\"", "The sessions as a table");
      HttpResponse<String> sessions = get(app, "head-to-head/sessions?models=K1,Wren@2.0");
      assertThat(sessions.body()).contains("in the common conditions, the newest first");
      assertThat(sessions.body().split("href=\"/sessions/", -1)).hasSize(1 + 4);
      assertThat(
              new ObjectMapper()
                  .readTree(get(app, "api/v1/head-to-head?models=Wren").body())
                  .get("models"))
          .hasSize(1);
    }
  }

  private static HttpResponse<String> get(App app, String page) throws Exception {
    URI address = URI.create("http://127.0.0.1:" + app.port() + "/" + page);
    return HttpClient.newHttpClient()
        .send(HttpRequest.newBuilder(address).build(), BodyHandlers.ofString());
  }
}

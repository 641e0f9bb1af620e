package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.StringWriter;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Path;
import java.time.InstantSource;
import milewarden.store.Database;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The difference strip for programs, of recordings that went the whole way through. */
final class StripAnswerTest {
  @TempDir Path folder;

  @Test
  void theStripIsGivenWhereItIsAskedForAndAddsUp() throws Exception {
    Season season = new Season(folder);
    try (Database database = season.look();
        App app = startedOn(season, database)) {
      assertThat(comparison(app, "").get("strips").isNull()).isTrue();
      JsonNode asked = comparison(app, "?strips=true&model=k1");
      JsonNode strip = asked.get("strips").get(0);
      assertThat(strip.get("course").asText()).isEqualTo("pier");
      // Four sessions with 1.0 have a track, one with 2.0.
      assertThat(strip.at("/sessions/baseline").asInt()).isEqualTo(4);
      assertThat(strip.at("/sessions/candidate").asInt()).isEqualTo(1);
      double sum = 0;
      double reached = 0;
      for (JsonNode bin : strip.get("bins")) {
        assertThat(bin.get("fromM").asDouble()).as("no place is left out").isEqualTo(reached);
        reached = bin.get("toM").asDouble();
        sum += bin.get("differenceM").asDouble();
        assertThat(bin.get("low").isNull()).as("one session has no band").isTrue();
      }
      assertThat(reached).isEqualTo(strip.get("lengthM").asDouble());
      assertThat(sum).isCloseTo(strip.get("totalM").asDouble(), within(1e-9));

      StringWriter out = new StringWriter();
      season.command(
          out, "compare", "--model", "K1", "--firmware", "2.0", "--against", "1.0", "--json");
      assertThat(new JsonMapper().readTree(out.toString())).isEqualTo(asked);
    }
  }

  private static App startedOn(Season season, Database database) throws Exception {
    season.run(database);
    return new App(season.config, InstantSource.system()).start();
  }

  private static JsonNode comparison(App app, String query) throws Exception {
    String address = "http://127.0.0.1:" + app.port() + "/api/v1/comparisons" + query;
    HttpResponse<String> answer =
        HttpClient.newHttpClient()
            .send(
                HttpRequest.newBuilder(URI.create(address)).build(),
                HttpResponse.BodyHandlers.ofString());
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
    for (JsonNode each : new JsonMapper().readTree(answer.body()).get("items"))
      if (each.get("candidate").asText().equals("2.0")) return each;
    throw new AssertionError(answer.body());
  }
}

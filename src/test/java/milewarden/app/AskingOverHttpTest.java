package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.InstantSource;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import milewarden.app.config.Config;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A recording of local times, from the folder over the Intake page to the run, by HTTP alone. */
final class AskingOverHttpTest {
  private static final Pattern CSRF = Pattern.compile("name=\"csrf\" value=\"([^\"]*)\"");

  @TempDir Path folder;
  private final HttpClient client = HttpClient.newHttpClient();
  private String address = "";

  @Test
  void localTimesAreProposedOnTheIntakePageAndMovedByItsForm() throws Exception {
    Household house = new Household(folder);
    // Two hours ahead of UTC in May: IANA time zone database, rule EU.
    Files.writeString(house.configFile, Household.QUICK.replace("UTC", "Europe/Berlin"));
    String whole =
        new String(
            Household.track(Instant.parse("2026-05-12T09:00:00Z"), 7), StandardCharsets.UTF_8);
    byte[] bytes = whole.replace("Z</time>", "</time>").getBytes(StandardCharsets.UTF_8);
    try (App app = new App(config(house), InstantSource.system()).start()) {
      address = "http://127.0.0.1:" + app.port();
      Files.createDirectories(house.data.resolve("inbox/K1/1.0/hand"));
      house.drop("K1/1.0/hand/local.gpx", bytes);
      JsonNode waiting = settled("waiting");

      HttpResponse<String> intake = get("/intake");
      // How it was moved, walk or ride, is asked beside it.
      assertThat(intake.body())
          .contains("K1/1.0/hand/local.gpx", "answer on its clock", "Europe/Berlin")
          .contains("<option value=\"local\">they are local times</option>")
          .contains("<option value=\"as-read\">its times are right as they were read</option>");
      assertThat(json("/api/v1/runs").get("items")).isEmpty();

      String form = "file=" + waiting.get("id").asText() + "&gait=walk&clock=local";
      HttpResponse<String> sent = post("/intake/tags", intake, form);
      assertThat(sent.statusCode()).as(sent.body()).isEqualTo(302);
      JsonNode measured = settled("measured");

      String run = measured.get("runId").asText();
      assertThat(json("/api/v1/runs/" + run).get("startedAt").asText())
          .isEqualTo("2026-05-12T07:00:00Z");
      assertThat(get("/runs/" + run).body())
          .contains("Its times were moved, as was answered (by \u22122:00 h)");
      String track = "/api/v1/tracks/" + measured.get("sha256").asText();
      assertThat(get(track).body().getBytes(StandardCharsets.UTF_8)).isEqualTo(bytes);
      assertThat(get(track + "/gpx").body()).contains("<time>2026-05-12T07:00:00Z</time>");
      assertThat(get(track + "/geojson").body()).contains("2026-05-12T07:00:00Z");
    }
  }

  private static Config config(Household house) {
    return house.config();
  }

  private JsonNode settled(String state) {
    Await.until(
        "the file is " + state, this::only, () -> only().path("state").asText().equals(state));
    return only();
  }

  private JsonNode only() {
    return json("/api/v1/tracks/received").get("items").path(0);
  }

  private JsonNode json(String path) {
    try {
      return new JsonMapper().readTree(get(path).body());
    } catch (Exception e) {
      throw new AssertionError(path, e);
    }
  }

  private HttpResponse<String> get(String path) throws Exception {
    return client.send(
        HttpRequest.newBuilder(URI.create(address + path)).build(),
        HttpResponse.BodyHandlers.ofString());
  }

  private HttpResponse<String> post(String path, HttpResponse<String> page, String form)
      throws Exception {
    Matcher csrf = CSRF.matcher(page.body());
    assertThat(csrf.find()).isTrue();
    String cookie = page.headers().firstValue("Set-Cookie").orElseThrow().split(";", 2)[0];
    String body = form + "&csrf=" + URLEncoder.encode(csrf.group(1), StandardCharsets.UTF_8);
    return client.send(
        HttpRequest.newBuilder(URI.create(address + path))
            .header("Content-Type", "application/x-www-form-urlencoded")
            .header("Cookie", cookie)
            .POST(HttpRequest.BodyPublishers.ofString(body))
            .build(),
        HttpResponse.BodyHandlers.ofString());
  }
}

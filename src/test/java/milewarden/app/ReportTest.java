package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.InstantSource;
import java.util.Map;
import milewarden.app.config.Config;
import milewarden.cli.Exit;
import milewarden.cli.Milewarden;
import milewarden.cli.kept.ReportCommand;
import milewarden.store.Database;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The report by command, page and public address, on a data folder with a published verdict. */
final class ReportTest {
  @TempDir Path folder;
  @TempDir Path elsewhere;
  private final HttpClient client = HttpClient.newHttpClient();

  private static Config again(Season season) {
    return season.house.config();
  }

  private HttpResponse<String> get(App app, String path) throws Exception {
    return client.send(
        HttpRequest.newBuilder(URI.create("http://127.0.0.1:" + app.port() + path)).build(),
        BodyHandlers.ofString());
  }

  private String report(Season season, String firmware, Path file, int code) {
    StringWriter out = new StringWriter();
    int done =
        Milewarden.run(
            Map.of("report", () -> new ReportCommand(new StoreDoor())),
            new PrintWriter(out),
            new PrintWriter(out),
            "report",
            "K1",
            firmware,
            "-o",
            file.toString(),
            "--data",
            season.house.data.toString(),
            "--config",
            season.house.configFile.toString());
    assertThat(done).as(out.toString()).isEqualTo(code);
    return out.toString();
  }

  @Test
  void isWrittenBesideAServerAndReadInPublicOnlyWhereTheSettingsSaySo() throws Exception {
    Season season = new Season(folder);
    try (Database database = season.look()) {
      season.run(database);
    }
    try (App app = new App(season.config, InstantSource.system()).start()) {
      assertThat(get(app, "/public/verdicts/1/1/report.html").statusCode()).isEqualTo(404);
      assertThat(get(app, "/public/verdicts/1/1/report.json").statusCode()).isEqualTo(404);
      assertThat(get(app, "/public/verdicts/1/1/capsule.zip").statusCode()).isEqualTo(404);
      HttpResponse<String> page = get(app, "/verdicts/1/1/report.html");
      assertThat(page.body()).contains("Reads well.", "Verdict 1");
      // Its own styles must be let through, and nothing else.
      assertThat(page.headers().firstValue("content-security-policy").orElse(""))
          .startsWith("default-src 'none'; style-src 'unsafe-inline'");

      Path file = elsewhere.resolve("k1.html");
      assertThat(report(season, "1.0", file, Exit.DONE)).contains("Verdict 1, published");
      assertThat(Files.readString(file)).isEqualTo(page.body());
      assertThat(elsewhere.resolve("capsule.zip")).isNotEmptyFile();
      Path twin = elsewhere.resolve("k1.json");
      report(season, "1.0", twin, Exit.DONE);
      JsonNode json = new JsonMapper().readTree(Files.readString(twin));
      assertThat(json.get("numbers").get("sessions").asInt()).isEqualTo(8);
      report(season, "9.9", file, Exit.WRONG_USE);
      report(season, "2.0", elsewhere.resolve("none").resolve("x.html"), Exit.WRONG_USE);
      assertThat(get(app, "/models/1/report.html?firmware=2.0").body()).contains("Not published");
    }
    Files.writeString(
        season.house.configFile, "\npublic: {verdicts: true}\n", StandardOpenOption.APPEND);
    try (App app = new App(again(season), InstantSource.system()).start()) {
      HttpResponse<String> open = get(app, "/public/verdicts/1/1/report.html");
      assertThat(open.statusCode()).isEqualTo(200);
      assertThat(open.body()).contains("Reads well.").doesNotContain("before and after");
      assertThat(get(app, "/public/verdicts/1/1/report.json").statusCode()).isEqualTo(200);
      assertThat(get(app, "/public/verdicts/1/1/capsule.zip").statusCode()).isEqualTo(200);
      assertThat(get(app, "/public/models/1/report.html?firmware=2.0").statusCode()).isEqualTo(404);
    }
  }
}

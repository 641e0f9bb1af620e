package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.StringWriter;
import java.net.CookieManager;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import milewarden.cli.Exit;
import milewarden.format.CourseFile;
import milewarden.intake.TrialMeasuring;
import milewarden.review.DryRun;
import milewarden.store.Database;
import milewarden.verdict.Policy;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Another policy is tried from the settings, by its limits or as a whole file. */
final class PolicyTrialTest {
  private static final Pattern CSRF = Pattern.compile("name=\"csrf\" value=\"([^\"]*)\"");
  private static final Pattern LEAD = Pattern.compile("<h1>([^<]*)</h1>");

  /** The device of the season reads some tenths of a percent long: not good enough for this. */
  private static final String STRICT =
      "purposes:\n  names: [racing, pacing, training]\n  mean_limit_percent: [0.01, 1.0, 2.0]\n"
          + "  next_run_limit_percent: [0.02, 2.0, 5.0]\n";

  @TempDir Path folder;
  private final HttpClient client =
      HttpClient.newBuilder()
          .cookieHandler(new CookieManager())
          .followRedirects(HttpClient.Redirect.NORMAL)
          .build();

  private HttpResponse<String> get(String address) throws Exception {
    return client.send(
        HttpRequest.newBuilder(URI.create(address)).build(), BodyHandlers.ofString());
  }

  private HttpResponse<String> post(String address, String policy) throws Exception {
    return post(address, "", "policy", policy);
  }

  private HttpResponse<String> post(String page, String form, String field, String text)
      throws Exception {
    Matcher csrf = CSRF.matcher(get(page).body());
    assertThat(csrf.find()).isTrue();
    return client.send(
        HttpRequest.newBuilder(URI.create(page + form))
            .header("Content-Type", "application/x-www-form-urlencoded")
            .POST(
                HttpRequest.BodyPublishers.ofString(
                    "csrf=" + encoded(csrf.group(1)) + "&" + field + "=" + encoded(text)))
            .build(),
        BodyHandlers.ofString());
  }

  private static String encoded(String text) {
    return URLEncoder.encode(text, StandardCharsets.UTF_8);
  }

  private static String lead(HttpResponse<String> page) {
    Matcher lead = LEAD.matcher(page.body());
    assertThat(lead.find()).as(page.body()).isTrue();
    return lead.group(1).replace('\u00a0', ' ');
  }

  /** The page once the dry run is over. */
  private String found(HttpResponse<String> page) throws Exception {
    HttpResponse<String> now = page;
    while (now.headers().firstValue("refresh").isPresent()) now = get(now.uri().toString());
    return lead(now);
  }

  @Test
  void saysOnThePageWhatTheCommandSays() throws Exception {
    Season season = new Season(folder);
    try (Database database = season.look()) {
      season.run(database);
    }
    Path file = Files.writeString(folder.resolve("strict.yaml"), STRICT);
    StringWriter said = new StringWriter();
    assertThat(season.command(said, "dry-run", "policy", file.toString()))
        .as(said.toString())
        .isEqualTo(Exit.FINDINGS);
    try (App app = new App(season.config, InstantSource.system()).start()) {
      String page = "http://127.0.0.1:" + app.port() + "/settings/dry-run";
      HttpResponse<String> tried = post(page, STRICT);
      assertThat(found(tried)).startsWith("This policy would change ");
      assertThat(said.toString()).contains(found(tried));
      assertThat(tried.uri().toString()).endsWith("/settings/dry-run/1");
      // The same by the single limits.
      String limits =
          "?try=yes&racing.mean=0,01&racing.next=0.02&pacing.mean=1&pacing.next=2"
              + "&training.mean=2&training.next=5&material=0.5";
      assertThat(found(get(page + limits))).isEqualTo(found(tried));
      assertThat(get(page).body()).contains("Tried before", "Dry run 1: This policy would change");
      // A slip says where, and the text is still there.
      assertThat(post(page, "puposes: {racing: 1}").body())
          .contains("policy.yaml, line 1", "puposes: {racing: 1}</textarea>");
      assertThat(get(page + "/99").statusCode()).isEqualTo(404);
    }
  }

  @Test
  void aCourseAndTheEngineAreTriedOnThePageAsByTheCommand() throws Exception {
    Season season = new Season(folder);
    try (Database database = season.look()) {
      season.run(database);
    }
    // The pier as if it were a quarter of a percent longer than it was measured.
    String text = CourseFile.write(Household.PIER);
    String longer = text.replaceFirst("(\"measured_length_m\"\\s*:\\s*)400(\\.0)?", "$1401.0");
    assertThat(longer).isNotEqualTo(text);
    Path file = Files.writeString(folder.resolve("longer.geojson"), longer);
    StringWriter said = new StringWriter();
    assertThat(season.command(said, "dry-run", "course", file.toString())).isEqualTo(Exit.FINDINGS);
    try (App app = new App(season.config, InstantSource.system()).start()) {
      String page = "http://127.0.0.1:" + app.port() + "/settings/dry-run";
      HttpResponse<String> course = post(page, "/course", "course", longer);
      assertThat(found(course)).startsWith("This version of pier would change ");
      assertThat(said.toString().replaceAll("\\s+", " ")).contains(found(course));
      assertThat(get(course.uri().toString()).body().replace('\u00a0', ' '))
          .contains("9 runs measured anew");
      assertThat(found(post(page, "/engine", "none", "")))
          .isEqualTo("This engine would change nothing.");
      HttpResponse<String> refused = post(page, "/course", "course", "{\"type\": 1}");
      assertThat(refused.body()).contains("role=\"alert\"", "{\"type\": 1}</textarea>");
      assertThat(get(page).body())
          .contains("Dry run 1: This version of pier", "Dry run 2: This engine");
    }
  }

  @Test
  void tellsHowManyRunsAreMeasured() throws Exception {
    Season season = new Season(folder);
    try (Database database = season.look()) {
      season.run(database);
      List<String> told = new ArrayList<>();
      new DryRun(
              database,
              season.config.policy(),
              season.config.zone(),
              new TrialMeasuring(database, season.config.inbox(), season.config.zone())::measure)
          .course(Household.PIER, (step, done, of) -> told.add(step + " " + done + "/" + of));
      assertThat(told)
          .containsExactly(
              "MEASURING_RUNS 0/9",
              "MEASURING_RUNS 9/9",
              "JUDGING_MODELS 0/1",
              "JUDGING_MODELS 1/1");
    }
  }

  @Test
  void tellsHowFarItIs() throws Exception {
    Season season = new Season(folder);
    try (Database database = season.look()) {
      season.run(database);
      List<String> told = new ArrayList<>();
      new DryRun(
              database,
              season.config.policy(),
              season.config.zone(),
              new TrialMeasuring(database, season.config.inbox(), season.config.zone())::measure)
          .policy(Policy.defaults(), (step, done, of) -> told.add(step + " " + done + "/" + of));
      assertThat(told).containsExactly("JUDGING_MODELS 0/1", "JUDGING_MODELS 1/1");
    }
  }
}

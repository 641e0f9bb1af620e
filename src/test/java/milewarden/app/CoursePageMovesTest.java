package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import milewarden.store.Database;
import milewarden.store.judged.Judgements;
import milewarden.store.judged.Verdicts;
import milewarden.store.run.Courses;
import milewarden.store.run.Models;
import milewarden.verdict.DueItem;
import milewarden.verdict.ModelJudgement;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * A course measured anew on its page, by the form alone, after a verdict was published on it: told
 * first, then written, measured beside the old, and raised; the public record stays as it was.
 */
final class CoursePageMovesTest {
  private static final Pattern HIDDEN =
      Pattern.compile("name=\"(csrf|version)\" value=\"([^\"]*)\"");

  /** 5,000 counts ridden over 500 m, then 4,010 over the course: 401 m, by hand. */
  private static final String RIDES =
      "method=wheel&calibration_m=500"
          + "&before.start=0&before.end=5000&before.start=0&before.end=5000"
          + "&pass.start=0&pass.end=4010&pass.start=0&pass.end=4010";

  @TempDir Path folder;
  private final HttpClient client = HttpClient.newHttpClient();

  @Test
  void aPageThatMovesAPublishedFigureSaysSoFirstAndRaisesItAfterwards() throws Exception {
    Season season = new Season(folder);
    Path file = season.house.data.resolve("courses/pier.geojson");
    try (Database database = season.look()) {
      season.run(database);
      List<Verdicts.OnRecord> published =
          database.read(tx -> Verdicts.readable(tx, new ArrayList<>()));
      ModelJudgement was = judged(database);
      int measured = season.count("select count(*) from measurement");
      int mails = season.house.files("outbox").size();
      String text = Files.readString(file);

      try (App app = new App(season.config, InstantSource.system()).start()) {
        String page = "http://127.0.0.1:" + app.port() + "/courses/pier/measure";
        HttpResponse<String> form = client.send(to(page).build(), text());
        String tried = post(page, form, "act=work").body();
        // UseLines and the dry run: the verdict is named, the figure is given before and after.
        assertThat(tried).contains("K1 1.0", "K1: ", "Nothing was written");
        assertThat(Files.readString(file)).as("a trial writes nothing").isEqualTo(text);
        assertThat(season.count("select count(*) from course_version")).isEqualTo(1);

        HttpResponse<String> kept =
            post(page, form, "act=keep&author=A.+Walker&reason=wheeled+again");
        assertThat(kept.statusCode()).as(kept.body()).isEqualTo(302);
        Await.until(
            "the new version is in force, measured and raised",
            () -> season.house.files("outbox"),
            () ->
                judged(database).judgedAt().isAfter(was.judgedAt())
                    && season.house.files("outbox").size() > mails);
        Season.atRest(database);
      }

      List<Courses.Known> versions =
          database.read(tx -> Courses.versions(tx, Household.PIER.slug()));
      assertThat(versions).hasSize(2);
      assertThat(versions)
          .filteredOn(Courses.Known::inForce)
          .singleElement()
          .satisfies(
              v -> {
                assertThat(v.course().measuredLengthM()).isCloseTo(401, within(1e-9));
                assertThat(v.course().change().orElseThrow().author()).isEqualTo("A. Walker");
                assertThat(v.course().change().orElseThrow().reason()).isEqualTo("wheeled again");
              });
      assertThat(season.count("select count(*) from measurement"))
          .as("the nine runs' new results stand beside the old")
          .isEqualTo(measured + 9);
      assertThat(Season.open(database))
          .extracting(d -> d.item().cause())
          .contains(DueItem.Cause.COURSE_REMEASURED);
      assertThat(
              database.<List<Verdicts.OnRecord>>read(
                  tx -> Verdicts.readable(tx, new ArrayList<>())))
          .as("what was published says what it said")
          .isEqualTo(published);
    }
  }

  private HttpResponse<String> post(String page, HttpResponse<String> form, String more)
      throws Exception {
    StringBuilder body = new StringBuilder(RIDES).append('&').append(more);
    Matcher hidden = HIDDEN.matcher(form.body());
    while (hidden.find())
      body.append('&')
          .append(hidden.group(1))
          .append('=')
          .append(URLEncoder.encode(hidden.group(2), StandardCharsets.UTF_8));
    String cookie = form.headers().firstValue("Set-Cookie").orElseThrow().split(";", 2)[0];
    return client.send(
        to(page)
            .header("Content-Type", "application/x-www-form-urlencoded")
            .header("Cookie", cookie)
            .POST(HttpRequest.BodyPublishers.ofString(body.toString()))
            .build(),
        text());
  }

  private static HttpRequest.Builder to(String address) {
    return HttpRequest.newBuilder(URI.create(address));
  }

  private static HttpResponse.BodyHandler<String> text() {
    return HttpResponse.BodyHandlers.ofString();
  }

  private static ModelJudgement judged(Database database) {
    return database.read(
        tx -> Judgements.find(tx, Models.find(tx, "K1").orElseThrow().id()).orElseThrow());
  }
}

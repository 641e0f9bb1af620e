package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.StringWriter;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import milewarden.cli.Exit;
import milewarden.store.Database;
import milewarden.store.judged.Plans;
import milewarden.store.run.Models;
import milewarden.verdict.CampaignPlan;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A campaign is planned on its page and by command, on a data folder with a season of runs. */
final class PlanTest {
  private static final Pattern CSRF = Pattern.compile("name=\"csrf\" value=\"([^\"]*)\"");

  @TempDir Path folder;
  private final HttpClient client = HttpClient.newHttpClient();

  private static List<CampaignPlan> plans(Database database, String firmware) {
    return database.read(tx -> Plans.of(tx, Models.find(tx, "K1").orElseThrow().id(), firmware));
  }

  private HttpResponse<String> get(String address) throws Exception {
    return client.send(
        HttpRequest.newBuilder(URI.create(address)).build(), BodyHandlers.ofString());
  }

  private HttpResponse<String> post(String address, String fields) throws Exception {
    HttpResponse<String> form = get(address);
    Matcher csrf = CSRF.matcher(form.body());
    assertThat(csrf.find()).as(form.body()).isTrue();
    String cookie = form.headers().firstValue("set-cookie").orElse("").split(";")[0];
    return client.send(
        HttpRequest.newBuilder(URI.create(address))
            .header("Content-Type", "application/x-www-form-urlencoded")
            .header("Cookie", cookie)
            .POST(
                HttpRequest.BodyPublishers.ofString(
                    "csrf="
                        + URLEncoder.encode(csrf.group(1), StandardCharsets.UTF_8)
                        + "&"
                        + fields))
            .build(),
        BodyHandlers.ofString());
  }

  private static String said(Season season, int code, String... command) {
    StringWriter out = new StringWriter();
    assertThat(season.command(out, command)).as(out.toString()).isEqualTo(code);
    return out.toString();
  }

  @Test
  void isPutInForceOnThePageAndByCommandAndLockedByTheFirstFile() throws Exception {
    Season season = new Season(folder);
    try (Database database = season.look()) {
      season.run(database);
      byCommand(season, database);
      try (App app = new App(season.config, InstantSource.system()).start()) {
        onThePage("http://127.0.0.1:" + app.port() + "/models/1/plan", database);
        said(
            season,
            Exit.DONE,
            "plan write --model K1 --firmware 4.0 --condition pier/fixed/walk --by Ann".split(" "));
        assertThat(plans(database, "4.0")).as("beside the server").hasSize(1);
        assertThat(said(season, Exit.FAILURE, "recompute"))
            .contains("it measures anew and judges anew by itself", "Due page");
      }
    }
  }

  private void onThePage(String page, Database database) throws Exception {
    assertThat(get(page).body())
        .contains("Plan a campaign", "Sessions that a change needs", "Plan for 3.0");
    HttpResponse<String> nameless =
        post(page, "firmware=5.0&words=as+before&condition=0&stop=AT_THE_LAST_LOOK");
    assertThat(nameless.body()).contains("Nothing was planned", "Say who plans it.");
    // What was entered is not lost.
    assertThat(nameless.body())
        .contains("value=\"5.0\"", "as before</textarea>")
        .contains("<option value=\"AT_THE_LAST_LOOK\" selected>");
    assertThat(plans(database, "5.0")).isEmpty();
    assertThat(post(page, "firmware=5.0&by=Ann").body()).contains("Choose one condition or more");

    HttpResponse<String> done =
        post(page, "firmware=5.0&by=Ann&condition=0&stop=AT_THE_LAST_LOOK&words=as+before");
    assertThat(done.statusCode()).isEqualTo(302);
    assertThat(get(page).body()).contains("Plan for 5.0", "Planned by Ann", "as before");
    CampaignPlan plan = plans(database, "5.0").get(0);
    assertThat(plan.stop()).isEqualTo(CampaignPlan.Stop.AT_THE_LAST_LOOK);
    assertThat(plan.baseline()).isEqualTo("1.0");
    // A run of it is in.
    assertThat(post(page, "firmware=2.0&by=Ann&condition=0").body())
        .contains("Nothing was planned", "a plan made after it would be none");
    assertThat(plans(database, "2.0")).isEmpty();
  }

  private static void byCommand(Season season, Database database) {
    assertThat(said(season, Exit.DONE, "plan", "needs", "--model", "K1"))
        .contains("A change of 0.5 points: ", "A change of 1.5 points: ");
    assertThat(said(season, Exit.DONE, "plan", "needs", "--model", "K1", "--change", "0.8"))
        .startsWith("A change of 0.8 points: ");
    said(season, Exit.WRONG_USE, "plan", "needs", "--model", "K1", "--change", "-1");
    said(season, Exit.FINDINGS, "plan", "show", "--model", "K1", "--firmware", "3.0");
    String[] write =
        "plan write --model K1 --firmware 3.0 --condition pier/fixed/walk --by Ann".split(" ");
    assertThat(said(season, Exit.DONE, write)).contains("Planned: 3.0 of K1.");
    assertThat(plans(database, "3.0")).extracting(CampaignPlan::by).containsExactly("Ann");
    assertThat(said(season, Exit.DONE, "plan", "show", "--model", "K1", "--firmware", "3.0"))
        .contains("Planned by Ann", "Conditions: pier, ");
    String[] wrong =
        "plan write --model K1 --firmware 3.0 --condition pier/fixed --by Ann".split(" ");
    assertThat(said(season, Exit.WRONG_USE, wrong)).contains("course/carriage/gait");
    String[] late =
        "plan write --model K1 --firmware 2.0 --condition pier/fixed/walk --by Ann".split(" ");
    assertThat(said(season, Exit.FINDINGS, late)).contains("a plan made after it would be none");
  }
}

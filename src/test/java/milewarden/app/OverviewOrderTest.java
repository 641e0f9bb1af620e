package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import milewarden.store.Database;
import milewarden.store.run.Runs;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The overview of three models, in the order and with the filter of its address. */
final class OverviewOrderTest {
  private static final Pattern MODEL =
      Pattern.compile("<th scope=\"row\"><a href=\"/models/\\d+\">([^<]*)</a>");

  @TempDir private Path folder;

  @Test
  void theAddressSaysWhichModelsStandThereAndInWhichOrder() throws Exception {
    Season season = new Season(folder);
    try (App app = new App(season.config, InstantSource.system()).start();
        Database look = season.look()) {
      StringBuilder rows = new StringBuilder();
      // Of 400 m: Auk reads 1 % long, Bee 2 % short, Cob right; Bee's sessions differ most.
      String[][] shown = {
        {"Auk", "0.404", "0.404", "0.404"},
        {"Bee", "0.388", "0.392", "0.396"},
        {"Cob", "0.400", "0.401", "0.400"}
      };
      for (String[] model : shown)
        for (int i = 1; i < model.length; i++)
          rows.append(
              Household.row("B" + i, Household.day(i), "", "1.0", model[i])
                  .replace("K1", model[0]));
      season.house.dropSheet("all/session.csv", rows.toString());
      Await.until("nine runs", () -> look.read(Runs::count), () -> look.read(Runs::count) == 9);
      Season.atRest(look);
      assertThat(models(app, "?sort=name")).containsExactly("Auk", "Bee", "Cob");
      assertThat(models(app, "?sort=error")).containsExactly("Bee", "Auk", "Cob");
      assertThat(models(app, "?sort=spread")).startsWith("Bee");
      assertThat(models(app, "?find=BE")).containsExactly("Bee");
      assertThat(models(app, "?find=no-such")).isEmpty();
      assertThat(models(app, "?sort=by%20no%20known%20way")).hasSize(3);
    }
  }

  private static List<String> models(App app, String query) throws Exception {
    URI address = URI.create("http://127.0.0.1:" + app.port() + "/" + query);
    String page =
        HttpClient.newHttpClient()
            .send(HttpRequest.newBuilder(address).build(), BodyHandlers.ofString())
            .body();
    List<String> found = new ArrayList<>();
    Matcher m = MODEL.matcher(page);
    while (m.find()) found.add(m.group(1));
    return found;
  }
}

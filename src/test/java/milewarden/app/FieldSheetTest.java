package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import milewarden.store.Database;
import milewarden.store.file.SheetRows;
import milewarden.store.run.Runs;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The field sheet by HTTP alone, as a browser without scripts sends it. */
final class FieldSheetTest {
  private static final Pattern INPUT = Pattern.compile("<input[^>]*>");
  private static final Pattern ATTRIBUTE = Pattern.compile("(name|value|type)=\"([^\"]*)\"");
  private static final String SESSION = "Outing 1";

  @TempDir private Path folder;
  private Season season;
  private App app;
  private Database look;
  private final HttpClient client = HttpClient.newHttpClient();
  private String cookie = "";

  @BeforeEach
  void threeSessionsOfOneUnit() throws Exception {
    season = new Season(folder);
    app = new App(season.config, InstantSource.system()).start();
    look = season.look();
    StringBuilder rows = new StringBuilder();
    for (int i = 0; i < 3; i++)
      rows.append(Household.row("B" + i, Household.day(i), "", "2.10", "0.40" + i));
    season.house.dropSheet("before/session.csv", rows.toString());
    Await.until("three runs", () -> runs(), () -> runs() == 3);
    Season.atRest(look);
  }

  @AfterEach
  void stop() {
    look.close();
    app.close();
  }

  private int runs() {
    return look.read(Runs::count);
  }

  private String address(String page) {
    return "http://127.0.0.1:" + app.port() + "/" + page;
  }

  private String sheet() {
    return address("models/1/sheet?session=" + SESSION.replace(" ", "%20"));
  }

  private HttpResponse<String> get(String address) throws Exception {
    return client.send(
        HttpRequest.newBuilder(URI.create(address)).build(), BodyHandlers.ofString());
  }

  /** The fields of the sheet as it stands, by name. */
  private Map<String, String> form() throws Exception {
    HttpResponse<String> page = get(sheet());
    assertThat(page.statusCode()).isEqualTo(200);
    cookie = page.headers().firstValue("Set-Cookie").orElseThrow().split(";", 2)[0];
    int start = page.body().indexOf("<form");
    String html = page.body().substring(start, page.body().indexOf("</form>"));
    Map<String, String> fields = new LinkedHashMap<>();
    Matcher inputs = INPUT.matcher(html);
    while (inputs.find()) {
      Map<String, String> input = new LinkedHashMap<>();
      Matcher attributes = ATTRIBUTE.matcher(inputs.group());
      while (attributes.find()) input.put(attributes.group(1), attributes.group(2));
      if (!input.getOrDefault("type", "").equals("checkbox"))
        fields.put(input.getOrDefault("name", ""), input.getOrDefault("value", ""));
    }
    // Of the lists, what a browser sends where nothing is chosen.
    for (int row = 0; row < 2; row++) fields.put("row." + row + ".shown_unit", "km");
    return fields;
  }

  private HttpResponse<String> send(Map<String, String> fields, String accept) throws Exception {
    String body =
        fields.entrySet().stream()
            .map(e -> e.getKey() + "=" + URLEncoder.encode(e.getValue(), StandardCharsets.UTF_8))
            .collect(Collectors.joining("&"));
    return client.send(
        HttpRequest.newBuilder(URI.create(address("models/1/sheet")))
            .header("Content-Type", "application/x-www-form-urlencoded")
            .header("Cookie", cookie)
            .header("Accept", accept)
            .POST(HttpRequest.BodyPublishers.ofString(body))
            .build(),
        BodyHandlers.ofString());
  }

  private List<String> revisions() throws Exception {
    List<String> all = new ArrayList<>();
    look.read(tx -> SheetRows.ofSession(tx, SESSION))
        .forEach(r -> all.add(r.words().key().pass() + ": revision " + r.revision()));
    return all;
  }

  @Test
  void readingsTypedOnThePageBecomeRowsAndRunsAndCountOnceHoweverOftenTheyAreSent()
      throws Exception {
    Map<String, String> form = form();
    assertThat(form)
        .containsEntry("row.0.unit", "K1")
        .containsEntry("row.0.firmware", "2.10")
        .containsEntry("row.0.course", "pier")
        .containsEntry("row.0.carriage", "hand")
        .containsEntry("row.0.direction", "forward")
        .containsEntry("row.1.direction", "reverse");
    form.put("row.0.shown", "0,403");
    form.put("row.1.shown", "0.399");
    HttpResponse<String> answer = send(form, "text/html");
    assertThat(answer.statusCode()).isEqualTo(303);
    assertThat(answer.headers().firstValue("Location").orElseThrow()).endsWith("&sent=2");
    Await.until("five runs", () -> runs(), () -> runs() == 5);

    for (int again = 0; again < 3; again++)
      assertThat(send(form, "application/json").body()).contains("\"kept\":[0,1]");
    Season.atRest(look);
    assertThat(runs()).isEqualTo(5);
    assertThat(revisions()).containsExactly("1: revision 1", "2: revision 1");
    var first = look.read(tx -> SheetRows.ofSession(tx, SESSION)).get(0);
    assertThat(first.words().tags()).containsEntry(milewarden.track.TagName.SHOWN, "0.403");
    assertThat(first.words().extra()).containsEntry("as_typed", "0,403");
    assertThat(form()).containsEntry("row.0.shown", "0,403");
  }

  @Test
  void aNewerSheetRevisesItsRow() throws Exception {
    Map<String, String> form = form();
    form.put("row.0.shown", "0.403");
    form.put("row.0.typed_at", "2026-05-12T07:10:00.000Z");
    form.put("pass.1.standing_s", "25");
    form.put("pass.1.happened", "stepped aside");
    send(form, "application/json");
    Await.until("four runs", () -> runs(), () -> runs() == 4);
    form.put("row.0.shown", "0.404");
    form.put("row.0.typed_at", "2026-05-12T07:12:00.000Z");
    send(form, "application/json");
    Await.until("a revision", () -> revision(), () -> revision() == 2);

    // The first sending once more, late: it takes nothing back.
    form.put("row.0.shown", "0.403");
    form.put("row.0.typed_at", "2026-05-12T07:10:00.000Z");
    assertThat(send(form, "application/json").body()).contains("\"kept\":[0]");
    Season.atRest(look);
    assertThat(revision()).isEqualTo(2);
    assertThat(runs()).isEqualTo(4);
    assertThat(look.read(tx -> SheetRows.ofSession(tx, SESSION)).get(0).words().tags())
        .containsEntry(milewarden.track.TagName.SHOWN, "0.404")
        .containsEntry(milewarden.track.TagName.STANDING_S, "25")
        .containsEntry(milewarden.track.TagName.NOTES, "stepped aside");
  }

  private int revision() {
    return look.read(tx -> SheetRows.ofSession(tx, SESSION)).stream()
        .mapToInt(SheetRows.SheetRow::revision)
        .max()
        .orElse(0);
  }

  @Test
  void aReadingThatIsNoneIsSaidAndTheOthersAreTaken() throws Exception {
    Map<String, String> form = form();
    form.put("row.0.shown", "0.4O3");
    form.put("row.1.shown", "0.399");
    HttpResponse<String> page = send(form, "text/html");
    assertThat(page.statusCode()).isEqualTo(200);
    assertThat(page.body())
        .contains("Pass 1, unit K1: A number is expected in column shown (0.4O3).")
        .contains("value=\"0.4O3\"");
    Await.until("four runs", () -> runs(), () -> runs() == 4);
    assertThat(revisions()).containsExactly("2: revision 1");
  }

  @Test
  void aReadingInAnotherUnitIsAskedAboutAndTakenWithANote() throws Exception {
    Map<String, String> form = form();
    form.put("row.0.shown", "403");
    assertThat(send(form, "application/json").body())
        .contains("\"kept\":[]")
        .contains("more than twice, or less than half");
    assertThat(revisions()).isEmpty();
    form.put("row.0.notes", "it had counted since the morning");
    assertThat(send(form, "application/json").body()).contains("\"kept\":[0]");
    Await.until("four runs", () -> runs(), () -> runs() == 4);
  }

  @Test
  void aCommaThatMayPartThousandsIsAskedAbout() throws Exception {
    Map<String, String> form = form();
    form.put("row.0.shown", "1,234 m");
    assertThat(send(form, "application/json").body())
        .contains("\"kept\":[]")
        .contains("may part thousands or decimals");
    form.put("row.0.shown", "0,403 km");
    assertThat(send(form, "application/json").body()).contains("\"kept\":[0]");
  }

  @Test
  void theSheetAsATableDroppedWithTheRecordingRevisesTheTypedRowAndCountsOnce() throws Exception {
    Map<String, String> form = form();
    form.put("row.0.shown", "0.403");
    send(form, "text/html");
    Await.until("four runs", () -> runs(), () -> runs() == 4);
    String table = get(address("models/1/sheet.csv?session=Outing%201")).body();
    assertThat(table).startsWith("\ufeffsession,date,time,file,pass,");
    String today = table.lines().skip(1).findFirst().orElseThrow().split(",")[1];
    season.house.drop(
        "later/out.gpx", Household.track(java.time.Instant.parse(today + "T08:00:00Z"), 3));
    // As a spreadsheet would: the file's name stands in the fourth column of the first row.
    String filled = table.replaceFirst("(Outing 1,[^,]*,[^,]*),,1,", "$1,out.gpx,1,");
    assertThat(filled).isNotEqualTo(table);
    season.house.drop("later/session.csv", filled.getBytes(StandardCharsets.UTF_8));
    Await.until("five runs", () -> runs(), () -> runs() == 5);
    Season.atRest(look);
    List<Runs.Run> counted =
        look.read(tx -> Runs.page(tx, 100, 0)).stream()
            .filter(r -> r.sessionName().equals(SESSION) && r.heldFor().isEmpty())
            .toList();
    assertThat(counted).hasSize(1);
    assertThat(counted.get(0).file()).isPresent();
  }

  @Test
  void whereNumbersHaveACommaTheTableHasThemSoAndReadsTheSame() throws Exception {
    Map<String, String> form = form();
    form.put("row.0.shown", "0.403");
    send(form, "text/html");
    Await.until("four runs", () -> runs(), () -> runs() == 4);
    String table = get(address("models/1/sheet.csv?session=Outing%201&decimals=comma")).body();
    assertThat(table).contains(";0,403;km;");
    // Dropped as it is it says nothing new.
    season.house.drop("same/session.csv", table.getBytes(StandardCharsets.UTF_8));
    Await.until(
        "the sheet left the inbox",
        () -> season.house.files("done"),
        () -> season.house.files("done").contains("same/session.csv"));
    Season.atRest(look);
    assertThat(runs()).isEqualTo(4);
    assertThat(revisions()).containsExactly("1: revision 1");
  }

  @Test
  void aModelThatIsNotThereHasNoSheet() throws Exception {
    assertThat(get(address("models/99/sheet")).statusCode()).isEqualTo(404);
    assertThat(get(address("models/99/sheet.csv")).statusCode()).isEqualTo(404);
  }
}

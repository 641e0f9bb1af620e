package milewarden.web.api;

import static org.assertj.core.api.Assertions.assertThat;

import biweekly.Biweekly;
import biweekly.ICalVersion;
import biweekly.ICalendar;
import biweekly.component.VEvent;
import biweekly.component.VTodo;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.networknt.schema.InputFormat;
import com.networknt.schema.SchemaLocation;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import com.rometools.rome.feed.atom.Entry;
import com.rometools.rome.feed.atom.Feed;
import com.rometools.rome.io.WireFeedInput;
import java.io.StringReader;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import milewarden.intake.TagForm;
import milewarden.intake.drop.Upload;
import milewarden.report.Digits;
import milewarden.report.Judged;
import milewarden.store.Database;
import milewarden.store.Id.ModelId;
import milewarden.store.TestStores;
import milewarden.store.judged.DueItems;
import milewarden.store.judged.Judgements;
import milewarden.store.judged.Settling;
import milewarden.store.judged.Verdicts;
import milewarden.store.run.Models;
import milewarden.store.told.Outbox;
import milewarden.store.told.Sending;
import milewarden.units.UnitChoice;
import milewarden.verdict.DueItem;
import milewarden.verdict.Policy;
import milewarden.verdict.PublishedVerdict;
import milewarden.verdict.Threshold;
import milewarden.web.Renderer;
import milewarden.web.WebServer;
import milewarden.web.WebSettings;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Feed and calendar, read by libraries that know nothing of us; and the handling of alerts. */
final class NewsTest {
  // What a name may hold: markup, signs of both formats, more than one octet a sign, a line break.
  private static final String NAME = "Fell <2> & \"co\"; a, b \\ né\u20ac\ud83d\ude00\r\nX-Evil: 1";

  @TempDir Path folder;
  private final HttpClient client = HttpClient.newHttpClient();
  private Instant now = Instant.parse("2026-11-20T18:00:00Z");
  private Database database;
  private WebServer server;
  private ModelId model = new ModelId(0);

  @BeforeEach
  void start() {
    database = TestStores.SQLITE.open(folder, () -> now);
    Digits digits = Digits.of(UnitChoice.METRIC, Locale.UK, ZoneId.of("Europe/Vienna"));
    Upload upload = new Upload(database, () -> {});
    Api api =
        new Api(
            database,
            digits,
            "1",
            Policy.defaults(),
            Optional.of(URI.create("https://tests.example/")),
            (name, bytes, tags) -> upload.take(name, bytes, tags).file(),
            new TagForm(database, () -> {}),
            List::of);
    server = WebServer.start(new WebSettings(0), new Renderer(), List.of(api));
    database.change(
        tx -> {
          model = Models.unit(tx, "fell-2-a", "Fell 2").model();
          Judgements.put(tx, model, Judged.model());
        });
  }

  @AfterEach
  void stop() {
    server.close();
    database.close();
  }

  private static DueItem named(DueItem d) {
    return new DueItem(
        d.key(),
        d.kind(),
        d.severity(),
        d.cause(),
        NAME,
        d.firmware(),
        d.facts(),
        d.advice(),
        d.evidence());
  }

  /** Two items, told of in one message. */
  private void fill() {
    database.change(
        tx -> {
          Settling.settle(
              tx, model, List.of(named(Judged.worse()), named(Judged.untested())), false);
          List<DueItems.Due> open = DueItems.open(tx);
          Outbox.queue(
              tx,
              new Outbox.Draft(
                  "m1@milewarden.invalid",
                  open.stream().map(DueItems.Due::id).toList(),
                  "subject",
                  "text",
                  "<p>",
                  Optional.empty(),
                  Outbox.Channel.MAIL,
                  Optional.of("one@c.example"),
                  Optional.empty(),
                  List.of()));
          for (DueItems.Due d : open) DueItems.told(tx, d.id(), "m1@milewarden.invalid");
        });
  }

  private HttpResponse<String> get(String path) throws Exception {
    return client.send(
        HttpRequest.newBuilder(URI.create(server.address()).resolve("/api/v1/" + path)).build(),
        BodyHandlers.ofString(StandardCharsets.UTF_8));
  }

  private HttpResponse<String> post(String path, String body) throws Exception {
    return client.send(
        HttpRequest.newBuilder(URI.create(server.address()).resolve("/api/v1/" + path))
            .header("Content-Type", "application/json")
            .POST(BodyPublishers.ofString(body))
            .build(),
        BodyHandlers.ofString());
  }

  private Feed feed() throws Exception {
    HttpResponse<String> answer = get("feed.atom");
    assertThat(answer.headers().firstValue("Content-Type").orElse(""))
        .startsWith("application/atom+xml");
    return (Feed) new WireFeedInput().build(new StringReader(answer.body()));
  }

  private void publish() {
    PublishedVerdict verdict =
        new PublishedVerdict(
            "Fell 2",
            1,
            "2.1.0",
            List.of("fell-2-a"),
            List.of(Judged.LOOP),
            List.of(),
            Judged.figures(8, 1.9, 0.4, 0.8, 3.0),
            List.of(),
            Threshold.State.CLEARED,
            List.of(),
            List.of(),
            Policy.defaults(),
            "1",
            true,
            "Good enough, for <training> & pacing.",
            now,
            Optional.empty(),
            Optional.empty());
    database.change(tx -> Verdicts.publish(tx, model, verdict, "Anna"));
  }

  // RFC 4287: section 4.1.1 (a feed has an id, a title and when it was updated), 4.1.2 (so has an
  // entry), 4.2.6 (an id stays), 4.1.1 again (an author for every entry, here the feed's).
  @Test
  void theFeedTellsAlertsAndKeepsTheirIds() throws Exception {
    assertThat(feed().getEntries()).isEmpty();
    fill();
    Feed feed = feed();
    assertThat(feed.getFeedType()).isEqualTo("atom_1.0");
    assertThat(feed.getId()).startsWith("urn:uuid:");
    assertThat(feed.getAuthors()).hasSize(1);
    assertThat(feed.getUpdated().toInstant()).isEqualTo(now);
    assertThat(feed.getOtherLinks().get(0).getHref())
        .isEqualTo("https://tests.example/api/v1/feed.atom");
    List<Entry> entries = feed.getEntries();
    assertThat(entries).hasSize(2);
    assertThat(entries).extracting(Entry::getId).doesNotHaveDuplicates();
    Entry worse = entries.get(0);
    assertThat(worse.getTitle()).contains("Fell <2> & \"co\"; a, b \\ né\u20ac\ud83d\ude00");
    assertThat(worse.getAlternateLinks().get(0).getHref()).startsWith("https://tests.example/due#");
    assertThat(worse.getContents().get(0).getValue()).contains("points");
    List<String> ids = entries.stream().map(Entry::getId).toList();
    now = now.plus(Duration.ofDays(1));
    database.change(
        tx -> DueItems.close(tx, DueItems.open(tx).get(0).id(), "Anna", "measured wrongly"));
    Feed later = feed();
    assertThat(later.getEntries())
        .extracting(Entry::getId)
        .containsExactlyInAnyOrderElementsOf(ids);
    assertThat(later.getEntries().get(0).getTitle()).startsWith("Closed: ");
    assertThat(later.getUpdated().toInstant()).isEqualTo(now);
  }

  @Test
  void aVerdictIsInTheFeedAndItsOldAgeInTheCalendar() throws Exception {
    now = Instant.parse("2026-02-28T23:30:00Z");
    publish();
    assertThat(feed().getEntries())
        .singleElement()
        .satisfies(
            e -> {
              assertThat(e.getTitle()).contains("verdict 1 on");
              assertThat(e.getContents().get(0).getValue())
                  .isEqualTo("Good enough, for <training> & pacing.");
            });
    VEvent old = calendar().getEvents().get(0);
    // Published on the first of March, local time; twelve months of the calendar later.
    assertThat(day(old.getDateStart().getValue())).isEqualTo(LocalDate.of(2027, 3, 1));
    assertThat(old.getDateStart().getValue().hasTime()).isFalse();
  }

  private ICalendar calendar() throws Exception {
    HttpResponse<String> answer = get("due.ics");
    assertThat(answer.headers().firstValue("Content-Type").orElse("")).startsWith("text/calendar");
    // RFC 5545, section 3.1: CRLF, and 75 octets at most.
    for (String line : answer.body().split("\r\n", -1)) {
      assertThat(line).doesNotContain("\n").doesNotContain("\r");
      assertThat(line.getBytes(StandardCharsets.UTF_8).length).isLessThanOrEqualTo(75);
    }
    ICalendar calendar = Biweekly.parse(answer.body()).first();
    assertThat(calendar.validate(ICalVersion.V2_0).getWarnings()).isEmpty();
    return calendar;
  }

  private static LocalDate day(java.util.Date date) {
    return LocalDate.ofInstant(date.toInstant(), ZoneId.systemDefault());
  }

  @Test
  void theCalendarHoldsWhatIsDueWithItsDay() throws Exception {
    fill();
    Instant until = now.plus(Duration.ofDays(3));
    database.change(tx -> DueItems.snooze(tx, DueItems.open(tx).get(0).id(), until, "Anna", ""));
    ICalendar calendar = calendar();
    assertThat(calendar.getTodos()).hasSize(2);
    VTodo worse = calendar.getTodos().get(0);
    assertThat(worse.getSummary().getValue())
        .contains("Fell <2> & \"co\"; a, b \\ né\u20ac\ud83d\ude00");
    assertThat(worse.getDescription().getValue()).contains("\n");
    assertThat(worse.getPriority().getValue()).isEqualTo(3);
    VTodo retest =
        calendar.getTodos().stream().filter(t -> t.getDateDue() != null).findFirst().orElseThrow();
    // 90 days after 2026-11-20, by the calendar.
    assertThat(day(retest.getDateDue().getValue())).isEqualTo(LocalDate.of(2027, 2, 18));
    assertThat(calendar.getEvents()).hasSize(1);
    assertThat(calendar.getEvents().get(0).getSummary().getValue()).startsWith("Told again: ");
    assertThat(calendar.getProperties()).noneMatch(p -> p.toString().contains("X-Evil"));
    assertThat(calendar.getTodos())
        .allSatisfy(t -> assertThat(t.getExperimentalProperties()).isEmpty());
  }

  private static List<String> errors(String schema, String json) throws Exception {
    String openapi =
        new String(
            NewsTest.class.getResourceAsStream("/milewarden/openapi.json").readAllBytes(),
            StandardCharsets.UTF_8);
    String id = "https://milewarden.invalid/openapi.json";
    SchemaRegistry registry =
        SchemaRegistry.withDefaultDialect(
            SpecificationVersion.DRAFT_2020_12, b -> b.schemas(Map.of(id, openapi)));
    return registry
        .getSchema(SchemaLocation.of(id + "#/components/schemas/" + schema))
        .validate(json, InputFormat.JSON)
        .stream()
        .map(Object::toString)
        .toList();
  }

  @Test
  void anAlertIsAcknowledgedAndPutOffAndSentAgainByPrograms() throws Exception {
    fill();
    HttpResponse<String> seen =
        post("alerts/1/acknowledge", "{\"by\":\"Anna\",\"words\":\"mine\"}");
    assertThat(seen.statusCode()).as(seen.body()).isEqualTo(200);
    assertThat(errors("HandlingList", seen.body())).isEmpty();
    JsonNode items = new JsonMapper().readTree(seen.body()).get("items");
    assertThat(items).hasSize(2);
    assertThat(items.get(0).get("acknowledgedBy").asText()).isEqualTo("Anna");
    HttpResponse<String> off =
        post("due/1/snooze", "{\"by\":\"Anna\",\"until\":\"2026-11-23T07:00:00+01:00\"}");
    assertThat(off.statusCode()).as(off.body()).isEqualTo(200);
    assertThat(get("due/1/handling").body()).contains("\"snoozedUntil\":\"2026-11-23T06:00:00Z\"");
    database.change(
        tx -> Sending.sent(tx, Outbox.page(tx, Optional.empty(), 1).get(0).id(), "250"));
    HttpResponse<String> again = post("alerts/1/again", "");
    assertThat(again.statusCode()).isEqualTo(202);
    assertThat(errors("Alert", again.body())).isEmpty();
    assertThat(again.body()).contains("\"state\":\"queued\"", "\"dueIds\":[\"1\",\"2\"]");
  }

  @Test
  void whatIsWrongWithAWishIsSaidAndNothingIsChanged() throws Exception {
    fill();
    for (String body :
        List.of(
            "",
            "[]",
            "{",
            "{\"by\":\"\"}",
            "{\"by\":1}",
            "{\"by\":\"Anna\"}",
            "{\"by\":\"Anna\",\"until\":\"tomorrow\"}",
            "{\"by\":\"Anna\",\"until\":\"2026-11-20T18:00:00Z\"}",
            "{\"by\":\"Anna\",\"until\":\"2028-11-20T18:00:00Z\"}",
            "{\"by\":\"" + "a".repeat(201) + "\",\"until\":\"2026-11-23T07:00:00Z\"}")) {
      HttpResponse<String> answer = post("due/1/snooze", body);
      assertThat(answer.statusCode()).as(body).isEqualTo(400);
      assertThat(errors("Problem", answer.body())).isEmpty();
    }
    assertThat(post("due/99/snooze", "{}").statusCode()).isEqualTo(404);
    assertThat(post("alerts/99/again", "").statusCode()).isEqualTo(404);
    assertThat(get("due/1/handling").body()).contains("\"snoozedUntil\":null");
    assertThat(get("due/1/acknowledge").statusCode()).as("no GET changes a state").isEqualTo(404);
  }
}

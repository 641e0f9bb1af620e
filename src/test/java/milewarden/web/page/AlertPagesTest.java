package milewarden.web.page;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.CookieManager;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import milewarden.intake.TagForm;
import milewarden.intake.course.CourseDrafting;
import milewarden.intake.course.CourseEditing;
import milewarden.intake.drop.Upload;
import milewarden.recipient.Audience;
import milewarden.recipient.QuietHours;
import milewarden.recipient.Recipient;
import milewarden.report.Digits;
import milewarden.report.Judged;
import milewarden.review.DryRun;
import milewarden.review.Publishing;
import milewarden.review.Trials;
import milewarden.store.ChangeRecord;
import milewarden.store.Database;
import milewarden.store.TestStores;
import milewarden.store.judged.DueItems;
import milewarden.store.judged.Judgements;
import milewarden.store.judged.Settling;
import milewarden.store.run.Models;
import milewarden.store.told.Outbox;
import milewarden.store.told.Recipients;
import milewarden.store.told.Sending;
import milewarden.units.UnitChoice;
import milewarden.verdict.DueItem;
import milewarden.verdict.Policy;
import milewarden.web.Reading;
import milewarden.web.Renderer;
import milewarden.web.WebServer;
import milewarden.web.WebSettings;
import milewarden.web.desk.Desk;
import milewarden.web.desk.MailDesk;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Who was told and who is told, over HTTP, as a browser sends forms. */
final class AlertPagesTest {
  private static final ZoneId VIENNA = ZoneId.of("Europe/Vienna");
  private static final Pattern TOKEN = Pattern.compile("name=\"csrf\" value=\"([^\"]+)\"");

  @TempDir Path folder;
  private final HttpClient client =
      HttpClient.newBuilder()
          .cookieHandler(new CookieManager())
          .followRedirects(HttpClient.Redirect.NORMAL)
          .build();
  private final AtomicInteger woken = new AtomicInteger();
  private Instant now = Instant.parse("2026-11-20T18:00:00Z");
  private Database database;
  private WebServer server;

  @BeforeEach
  void start() {
    database = TestStores.SQLITE.open(folder, () -> now);
    Renderer renderer = new Renderer();
    server = WebServer.start(new WebSettings(0), renderer, List.of(new Pages(desk(renderer))));
    database.change(
        tx -> {
          var model = Models.unit(tx, "fell-2-a", "Fell 2").model();
          Judgements.put(tx, model, Judged.model());
          Settling.settle(tx, model, List.of(Judged.worse(), Judged.untested()), false);
          for (DueItems.Due d : DueItems.open(tx)) DueItems.told(tx, d.id(), "m1@x");
        });
  }

  private Desk desk(Renderer renderer) {
    Policy policy = Policy.defaults();
    DryRun dryRun =
        new DryRun(
            database,
            policy,
            VIENNA,
            (tx, course) -> {
              throw new AssertionError("nothing is tried here");
            });
    return new Desk(
        renderer,
        database,
        policy,
        new Reading(Digits.of(UnitChoice.METRIC, Locale.UK, VIENNA)),
        "1",
        "inbox",
        "courses",
        new Upload(database, () -> {}),
        new TagForm(database, () -> {}),
        new Publishing(database, policy, VIENNA, () -> {}),
        new Trials(dryRun),
        (text, problems) -> policy,
        new CourseDrafting(folder, () -> {}),
        new CourseEditing(folder, () -> now, VIENNA, () -> {}),
        List::of,
        new MailDesk(
            new Audience(List.of("config@c.example"), VIENNA, true),
            "Mail leaves by mail.example, port 587.",
            woken::incrementAndGet),
        List.of());
  }

  @AfterEach
  void stop() {
    server.close();
    database.close();
  }

  private HttpResponse<String> get(String path) throws Exception {
    return client.send(
        HttpRequest.newBuilder(URI.create(server.address()).resolve(path))
            .header("Accept", "text/html")
            .build(),
        BodyHandlers.ofString());
  }

  /** Sends a form of a page with the page's own token. */
  private HttpResponse<String> post(String page, String path, String... fields) throws Exception {
    Matcher token = TOKEN.matcher(get(page).body());
    assertThat(token.find()).as(page).isTrue();
    StringBuilder form = new StringBuilder("csrf=" + encoded(token.group(1)));
    for (int i = 0; i < fields.length; i += 2)
      form.append('&').append(fields[i]).append('=').append(encoded(fields[i + 1]));
    return client.send(
        HttpRequest.newBuilder(URI.create(server.address()).resolve(path))
            .header("Content-Type", "application/x-www-form-urlencoded")
            .header("Accept", "text/html")
            .POST(BodyPublishers.ofString(form.toString()))
            .build(),
        BodyHandlers.ofString());
  }

  private static String encoded(String text) {
    return URLEncoder.encode(text, StandardCharsets.UTF_8);
  }

  private List<DueItems.Due> open() {
    return database.read(tx -> DueItems.open(tx));
  }

  private List<Outbox.Message> messages() {
    return database.read(tx -> Outbox.page(tx, Optional.empty(), 10));
  }

  private List<Recipient> people() {
    return database.read(tx -> Recipients.all(tx));
  }

  @Test
  void aDamagedChoiceIsNamedBesideTheRest() throws Exception {
    database.change(
        tx -> {
          Recipients.put(tx, Recipient.ofEverything("torn@c.example", VIENNA));
          Recipients.put(tx, Recipient.ofEverything("whole@c.example", VIENNA));
          tx.update("update recipient set choice = '{' where address = 'torn@c.example'").execute();
        });
    for (String page : List.of("/alerts", "/settings/mail"))
      assertThat(get(page).body().replace("&#39;", "'"))
          .contains("stored choice can't be read of torn@c.example")
          .doesNotContain("read of torn@c.example, whole");
    assertThat(get("/settings/mail").body())
        .contains("<h3>whole@c.example</h3>", "<h3>torn@c.example</h3>");
  }

  @Test
  void theLinkOfAMailLeadsToAFormAndChangesNothingItself() throws Exception {
    HttpResponse<String> page = get("/alerts/items/1.2");
    assertThat(page.statusCode()).isEqualTo(200);
    assertThat(page.body()).contains("Acknowledge", "Put off");
    assertThat(get("/alerts/items/1.2/acknowledge").statusCode()).isIn(404, 405);
    assertThat(get("/alerts/items/1.x").statusCode()).isEqualTo(404);
    assertThat(open()).allSatisfy(d -> assertThat(d.seen()).isEmpty());
  }

  @Test
  void whoHasSeenItStandsOnTheAlertsPage() throws Exception {
    assertThat(get("/alerts").body()).contains("not acknowledged");
    HttpResponse<String> after =
        post(
            "/alerts/items/1.2",
            "/alerts/items/1.2/acknowledge",
            "by",
            "Anna <b>",
            "words",
            "mine");
    assertThat(after.statusCode()).isEqualTo(200);
    assertThat(after.body())
        .contains("Acknowledged by Anna &lt;b&gt;")
        .doesNotContain("not acknowledged");
  }

  @Test
  void whereNoMessageWasEverWrittenNoneIsSaidToBeSent() throws Exception {
    for (String path : List.of("/alerts", "/alerts?state=failed", "/alerts?state=sent"))
      assertThat(get(path).body())
          .as(path)
          .contains("Nobody had to be told anything yet.")
          .doesNotContain("Every message was sent");
  }

  @Test
  void itIsPutOffToTheMorningOfALocalDay() throws Exception {
    HttpResponse<String> after =
        post("/alerts/items/1.2", "/alerts/items/1/snooze", "by", "Anna", "until", "2026-11-25");
    assertThat(after.body()).contains("put off", "25 Nov 2026, 07:00");
    assertThat(open().stream().flatMap(d -> d.snoozedUntil().stream()).toList())
        .containsExactly(Instant.parse("2026-11-25T06:00:00Z"));
  }

  @Test
  void aWishThatCanNotBeGrantedIsAnsweredWithASentenceAndTheForm() throws Exception {
    String page = "/alerts/items/1.2";
    assertThat(post(page, page + "/snooze", "by", "Anna", "until", "").body())
        .contains("The day is missing", "Put off");
    HttpResponse<String> past = post(page, page + "/snooze", "by", "Anna", "until", "2026-11-20");
    assertThat(past.statusCode()).isEqualTo(400);
    assertThat(past.body()).contains("to a later moment only");
    assertThat(post(page, page + "/acknowledge", "by", " ").body()).contains("Say who you are");
  }

  @Test
  void aFormWithoutItsTokenIsRefused() throws Exception {
    HttpResponse<String> answer =
        client.send(
            HttpRequest.newBuilder(
                    URI.create(server.address()).resolve("/alerts/items/1/acknowledge"))
                .header("Content-Type", "application/x-www-form-urlencoded")
                .POST(BodyPublishers.ofString("by=Anna"))
                .build(),
            BodyHandlers.ofString());
    assertThat(answer.statusCode()).isEqualTo(403);
    assertThat(open()).allSatisfy(d -> assertThat(d.seen()).isEmpty());
  }

  @Test
  void aChoiceIsKeptShownChangedAndTakenOff() throws Exception {
    assertThat(get("/settings/mail").body()).contains("config@c.example", "Fell 2");
    HttpResponse<String> kept =
        post(
            "/settings/mail",
            "/settings/mail",
            "address",
            "anna@c.example",
            "severity",
            "regression",
            "severity",
            "verdict-wrong",
            "model",
            "Fell 2",
            "delivery",
            "digest",
            "digest_at",
            "07:30",
            "quiet_from",
            "22:00",
            "quiet_to",
            "07:00",
            "zone",
            "Europe/Vienna",
            "wrong_at_once",
            "yes");
    assertThat(kept.body())
        .contains(
            "The choice is kept",
            "Verdict wrong in public, regression; Fell 2",
            "Daily digest at 07:30, Europe/Vienna; quiet from 22:00 to 07:00");
    assertThat(people())
        .containsExactly(
            new Recipient(
                "anna@c.example",
                Set.of("Fell 2"),
                Set.of(DueItem.Severity.REGRESSION, DueItem.Severity.VERDICT_WRONG),
                Recipient.Delivery.DAILY_DIGEST,
                LocalTime.of(7, 30),
                Optional.of(new QuietHours(LocalTime.of(22, 0), LocalTime.of(7, 0), VIENNA)),
                true,
                VIENNA));
    assertThat(get("/settings/mail?address=anna%40c.example").body())
        .contains("value=\"anna@c.example\"", "value=\"07:30\"", "value=\"22:00\"");
    post("/settings/mail", "/settings/mail/remove", "address", "anna@c.example");
    assertThat(people()).isEmpty();
    assertThat(database.<List<ChangeRecord.Change>>read(tx -> ChangeRecord.page(tx, 10, 0)))
        .extracting(ChangeRecord.Change::subject)
        .containsExactly("anna@c.example", "anna@c.example");
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "address=a@c.example%0D%0ABcc: b@c.example|plain address",
        "address=a@c.example,b@c.example|plain address",
        "zone=Vienna|zone is not known",
        "quiet_from=22:00|beginning and an end",
        "digest_at=7 o'clock|written as 07:00",
        "severity=none|tick one"
      })
  void aChoiceThatCanNotHoldIsRefusedWithASentence(String text) throws Exception {
    String change = text.substring(0, text.indexOf('|')).replace("%0D%0A", "\r\n");
    String name = change.substring(0, change.indexOf('='));
    String[] fields = {
      "address",
      "a@c.example",
      "severity",
      "regression",
      "delivery",
      "immediate",
      "digest_at",
      "07:00",
      "quiet_from",
      "",
      "quiet_to",
      "",
      "zone",
      "UTC"
    };
    for (int i = 0; i < fields.length; i += 2)
      if (fields[i].equals(name)) fields[i + 1] = change.substring(change.indexOf('=') + 1);
    if (name.equals("severity")) fields[2] = "other";
    HttpResponse<String> answer = post("/settings/mail", "/settings/mail", fields);
    assertThat(answer.statusCode()).isEqualTo(400);
    assertThat(answer.body()).contains(text.substring(text.indexOf('|') + 1));
    assertThat(people()).isEmpty();
  }

  @Test
  void aTestMessageGoesToWhoIsToldAndToNobodyElse() throws Exception {
    post("/settings/mail", "/settings/mail/test", "address", "config@c.example");
    assertThat(messages()).hasSize(1);
    assertThat(messages().get(0).recipient()).hasValue("config@c.example");
    assertThat(woken).hasValue(1);
    assertThat(
            post("/settings/mail", "/settings/mail/test", "address", "other@c.example")
                .statusCode())
        .isEqualTo(404);
    now = now.plus(Duration.ofSeconds(1));
    post("/settings/mail", "/settings/mail/test", "address", "");
    assertThat(messages()).hasSize(2);
    assertThat(messages().get(0).channel()).isEqualTo(Outbox.Channel.HOOK);
  }

  @Test
  void aMessageIsSentAgain() throws Exception {
    database.change(
        tx -> Outbox.queue(tx, "m1@x", Optional.empty(), "Fell 2", "t", "h", Optional.empty()));
    database.change(tx -> Sending.failed(tx, messages().get(0).id(), "550 nobody"));
    assertThat(get("/alerts").body()).contains("failed", "550 nobody", "To config@c.example");
    post("/alerts", "/alerts/" + messages().get(0).id().value() + "/again");
    assertThat(messages().get(0).state()).isEqualTo(Outbox.State.QUEUED);
    assertThat(woken).hasValue(1);
  }

  @Test
  void aMessageInQuietHoursSaysUntilWhenItWaits() throws Exception {
    database.change(
        tx ->
            Outbox.queue(
                tx,
                new Outbox.Draft(
                    "m1@x",
                    List.of(),
                    "Fell 2",
                    "t",
                    "h",
                    Optional.empty(),
                    Outbox.Channel.MAIL,
                    Optional.of("a@c.example"),
                    Optional.of(new QuietHours(LocalTime.of(18, 0), LocalTime.of(7, 0), VIENNA)),
                    List.of())));
    database.change(tx -> Sending.claim(tx, Outbox.Channel.MAIL, 1, Duration.ofMinutes(1)));
    assertThat(get("/alerts").body()).contains("quiet hours, 21 Nov 2026, 07:00");
  }
}

package milewarden.review.tell;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.networknt.schema.InputFormat;
import com.networknt.schema.SchemaLocation;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import milewarden.recipient.Audience;
import milewarden.recipient.QuietHours;
import milewarden.recipient.Recipient;
import milewarden.report.Digits;
import milewarden.report.Judged;
import milewarden.store.Database;
import milewarden.store.Id.ModelId;
import milewarden.store.TestStores;
import milewarden.store.judged.DueHistory;
import milewarden.store.judged.DueItems;
import milewarden.store.judged.Judgements;
import milewarden.store.judged.Settling;
import milewarden.store.run.Models;
import milewarden.store.told.Outbox;
import milewarden.store.told.Recipients;
import milewarden.store.told.Sending;
import milewarden.units.UnitChoice;
import milewarden.verdict.DueItem;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.Parameter;
import org.junit.jupiter.params.ParameterizedClass;
import org.junit.jupiter.params.provider.EnumSource;

/** Who is told of what, and when. */
@ParameterizedClass
@EnumSource(TestStores.class)
final class TellingTest {
  private static final ZoneId VIENNA = ZoneId.of("Europe/Vienna");
  private static final LocalTime SEVEN = LocalTime.of(7, 0);

  @Parameter TestStores stores;
  @TempDir Path folder;
  private Database database;
  // A Saturday at noon, local time.
  private Instant now = Instant.parse("2026-03-28T11:00:00Z");
  private ModelId model = new ModelId(0);

  @BeforeEach
  void open() {
    database = stores.open(folder, () -> now);
    database.change(
        tx -> {
          model = Models.unit(tx, "fell-2-a", "Fell 2").model();
          Judgements.put(tx, model, Judged.model());
        });
  }

  @AfterEach
  void close() {
    database.close();
  }

  private Telling telling(boolean hook, String... always) {
    return new Telling(
        Digits.of(UnitChoice.METRIC, Locale.ENGLISH, VIENNA),
        Optional.of("https://tests.example"),
        new Audience(List.of(always), VIENNA, hook));
  }

  private boolean tell(Telling telling) {
    return database.write(telling::tell);
  }

  private boolean digest(Telling telling) {
    return database.write(telling::digest);
  }

  private void due(DueItem... items) {
    database.change(tx -> Settling.settle(tx, model, List.of(items), false));
  }

  private static DueItem wrongInPublic() {
    DueItem d = Judged.worse();
    return new DueItem(
        "wrong",
        d.kind(),
        DueItem.Severity.VERDICT_WRONG,
        d.cause(),
        d.model(),
        d.firmware(),
        d.facts(),
        d.advice(),
        d.evidence());
  }

  private void choose(
      String address,
      Recipient.Delivery delivery,
      Set<String> models,
      Set<DueItem.Severity> severities,
      Optional<QuietHours> quiet,
      boolean wrongAtOnce) {
    Recipient r =
        new Recipient(address, models, severities, delivery, SEVEN, quiet, wrongAtOnce, VIENNA);
    database.change(tx -> Recipients.put(tx, r));
  }

  private void choose(String address, Recipient.Delivery delivery) {
    choose(
        address,
        delivery,
        Set.of(),
        EnumSet.allOf(DueItem.Severity.class),
        Optional.empty(),
        false);
  }

  private List<Outbox.Message> messages() {
    List<Outbox.Message> all = database.read(tx -> Outbox.page(tx, Optional.empty(), 100));
    return all.stream().sorted(java.util.Comparator.comparing(m -> m.id().value())).toList();
  }

  private List<String> claimed() {
    return database
        .write(tx -> Sending.claim(tx, Outbox.Channel.MAIL, 100, Duration.ofSeconds(1)))
        .stream()
        .map(m -> m.recipient().orElse(""))
        .toList();
  }

  @Test
  void eachReceiverGetsOneMessageOnWhatTheyChose() {
    choose("all@c.example", Recipient.Delivery.IMMEDIATE);
    choose(
        "regressions@c.example",
        Recipient.Delivery.IMMEDIATE,
        Set.of("FELL 2"),
        Set.of(DueItem.Severity.REGRESSION),
        Optional.empty(),
        false);
    choose(
        "other@c.example",
        Recipient.Delivery.IMMEDIATE,
        Set.of("Another"),
        EnumSet.allOf(DueItem.Severity.class),
        Optional.empty(),
        false);
    due(Judged.worse(), Judged.untested());
    assertThat(tell(telling(false, "config@c.example"))).isTrue();
    assertThat(messages())
        .extracting(m -> m.recipient().orElse(""))
        .containsExactly("all@c.example", "regressions@c.example", "config@c.example");
    List<Integer> items =
        database.read(tx -> messages().stream().map(m -> Outbox.items(tx, m.id()).size()).toList());
    assertThat(items).containsExactly(2, 1, 2);
    assertThat(messages()).extracting(Outbox.Message::messageId).doesNotHaveDuplicates();
    assertThat(messages().get(0).text()).contains("https://tests.example/alerts/items/1.2");
    assertThat(tell(telling(false))).isFalse();
    assertThat(messages()).hasSize(3);
  }

  @Test
  void whoseChoiceIsDamagedIsToldOfEverythingAndTheOthersAsTheyChose() {
    choose("daily@c.example", Recipient.Delivery.DAILY_DIGEST);
    choose("torn@c.example", Recipient.Delivery.DAILY_DIGEST);
    due(Judged.untested());
    Telling telling = telling(false);
    tell(telling);
    assertThat(messages()).as("both wait for a digest").isEmpty();
    database.change(
        tx ->
            tx.update("update recipient set choice = '{torn' where address = 'torn@c.example'")
                .execute());
    assertThat(database.read(Recipients::unreadable)).containsExactly("torn@c.example");
    digest(telling);
    due(Judged.untested(), Judged.worse());
    tell(telling);
    assertThat(messages())
        .extracting(m -> m.recipient().orElse(""))
        .as("what waited, and what is new")
        .filteredOn("torn@c.example"::equals)
        .hasSize(2);
    choose("torn@c.example", Recipient.Delivery.DAILY_DIGEST);
    assertThat(database.read(Recipients::unreadable)).isEmpty();
    assertThat(database.read(Recipients::all))
        .extracting(Recipient::delivery)
        .containsOnly(Recipient.Delivery.DAILY_DIGEST);
  }

  @Test
  void eachReceiverReadsNumbersAsTheyChose() {
    choose("comma@c.example", Recipient.Delivery.IMMEDIATE);
    database.change(
        tx ->
            Recipients.put(
                tx,
                Recipients.find(tx, "comma@c.example")
                    .orElseThrow()
                    .reading(Optional.of(UnitChoice.IMPERIAL), Optional.of("de-DE"))));
    due(Judged.worse());
    tell(telling(false, "point@c.example"));
    assertThat(messages().get(0).text()).containsPattern("[0-9],[0-9]");
    assertThat(messages().get(0).text()).doesNotContainPattern("[0-9][.][0-9]+.(%|points)");
    assertThat(messages().get(1).text()).containsPattern("[0-9][.][0-9]");
    assertThat(messages().get(1).text()).doesNotContainPattern("[0-9],[0-9]");
  }

  @Test
  void aDigestGathersADayAndComesOnceAtSevenLocalTimeOnBothChangeDays() {
    for (String night : List.of("2026-03-28T11:00:00Z", "2026-10-24T11:00:00Z")) {
      now = Instant.parse(night);
      choose("daily@c.example", Recipient.Delivery.DAILY_DIGEST);
      Telling telling = telling(false);
      digest(telling);
      int before = messages().size();
      due();
      due(Judged.worse(), Judged.untested());
      tell(telling);
      assertThat(messages()).as("nothing at once").hasSize(before);
      Instant sevenOnSunday =
          now.atZone(VIENNA).toLocalDate().plusDays(1).atTime(7, 0).atZone(VIENNA).toInstant();
      Instant end = now.plus(Duration.ofDays(2));
      Optional<Instant> came = Optional.empty();
      for (; now.isBefore(end); now = now.plus(Duration.ofMinutes(10)))
        if (digest(telling)) came = Optional.of(now);
      assertThat(came).hasValue(sevenOnSunday);
      assertThat(messages()).hasSize(before + 1);
      Outbox.Message message = messages().get(before);
      assertThat(message.subject()).startsWith("Digest of ");
      assertThat(message.text()).contains("2 things became due");
    }
  }

  @Test
  void aClockSetBackSendsNoDigestTwiceAndASleepOfDaysMakesOneOfAll() {
    choose("daily@c.example", Recipient.Delivery.DAILY_DIGEST);
    Telling telling = telling(false);
    digest(telling);
    due(Judged.worse());
    tell(telling);
    now = Instant.parse("2026-04-02T09:00:00Z");
    assertThat(digest(telling)).isTrue();
    due(Judged.worse(), Judged.untested());
    tell(telling);
    now = Instant.parse("2026-04-02T04:30:00Z");
    assertThat(digest(telling)).isFalse();
    now = Instant.parse("2026-04-02T05:00:00Z");
    assertThat(digest(telling)).isFalse();
    now = Instant.parse("2026-04-03T05:00:00Z");
    assertThat(digest(telling)).isTrue();
    assertThat(messages()).hasSize(2);
    List<Integer> items =
        database.read(tx -> messages().stream().map(m -> Outbox.items(tx, m.id()).size()).toList());
    assertThat(items).as("each item in one digest").containsExactly(1, 1);
  }

  @Test
  void whatClosedBeforeTheDigestIsOnlyCounted() {
    choose("daily@c.example", Recipient.Delivery.DAILY_DIGEST);
    Telling telling = telling(false);
    digest(telling);
    due(Judged.worse(), Judged.untested());
    tell(telling);
    due(Judged.untested());
    now = now.plus(Duration.ofDays(1));
    assertThat(digest(telling)).isTrue();
    assertThat(messages().get(0).text())
        .contains("1 thing became due", "1 other became due and is closed again already");
  }

  @Test
  void aMessageWaitsForTheEndOfTheQuietHoursAndNothingIsLost() {
    QuietHours night = new QuietHours(LocalTime.of(22, 0), SEVEN, VIENNA);
    choose(
        "sleeper@c.example",
        Recipient.Delivery.IMMEDIATE,
        Set.of(),
        EnumSet.allOf(DueItem.Severity.class),
        Optional.of(night),
        true);
    now = Instant.parse("2026-03-29T00:30:00Z");
    due(Judged.worse());
    tell(telling(false));
    assertThat(claimed()).isEmpty();
    assertThat(messages().get(0).nextTryAt()).isEqualTo(Instant.parse("2026-03-29T05:00:00Z"));
    due(Judged.worse(), wrongInPublic());
    tell(telling(false));
    assertThat(claimed()).as("what is wrong in public goes through").hasSize(1);
    now = Instant.parse("2026-03-29T04:59:59Z");
    database.change(tx -> Sending.sent(tx, messages().get(1).id(), "250"));
    assertThat(claimed()).isEmpty();
    now = Instant.parse("2026-03-29T05:00:00Z");
    assertThat(claimed()).containsExactly("sleeper@c.example");
  }

  @Test
  void aRetryThatFallsIntoTheQuietHoursWaitsToo() {
    QuietHours night = new QuietHours(LocalTime.of(22, 0), SEVEN, VIENNA);
    choose(
        "sleeper@c.example",
        Recipient.Delivery.IMMEDIATE,
        Set.of(),
        EnumSet.allOf(DueItem.Severity.class),
        Optional.of(night),
        false);
    now = Instant.parse("2026-05-12T19:59:00Z");
    due(wrongInPublic());
    tell(telling(false));
    assertThat(claimed()).hasSize(1);
    Instant later = now.plus(Duration.ofMinutes(2));
    database.change(tx -> Sending.retry(tx, messages().get(0).id(), later, "450"));
    now = later;
    assertThat(claimed()).isEmpty();
    assertThat(messages().get(0).nextTryAt()).isEqualTo(Instant.parse("2026-05-13T05:00:00Z"));
  }

  @Test
  void whatIsWrongInPublicDoesNotWaitForTheDigestByChoice() {
    choose(
        "daily@c.example",
        Recipient.Delivery.DAILY_DIGEST,
        Set.of(),
        EnumSet.allOf(DueItem.Severity.class),
        Optional.empty(),
        true);
    Telling telling = telling(false);
    digest(telling);
    due(wrongInPublic(), Judged.untested());
    tell(telling);
    assertThat(messages()).hasSize(1);
    now = now.plus(Duration.ofDays(1));
    digest(telling);
    List<Integer> items =
        database.read(tx -> messages().stream().map(m -> Outbox.items(tx, m.id()).size()).toList());
    assertThat(items).containsExactly(1, 1);
  }

  @Test
  void whatIsPutOffIsToldAgainThenInTheSameThreadUnlessItWasAcknowledgedOrClosed() {
    Telling telling = telling(false, "one@c.example");
    due(Judged.worse(), Judged.untested());
    tell(telling);
    List<DueItems.Due> open = database.read(tx -> DueItems.open(tx));
    Instant until = now.plus(Duration.ofDays(3));
    database.change(
        tx -> {
          for (DueItems.Due d : open) DueItems.snooze(tx, d.id(), until, "Anna", "no rain, please");
          DueItems.acknowledge(tx, open.get(1).id(), "Ben", "");
        });
    now = until.minusSeconds(1);
    assertThat(tell(telling)).isFalse();
    now = until;
    assertThat(tell(telling)).isTrue();
    assertThat(tell(telling)).isFalse();
    Outbox.Message again = messages().get(1);
    assertThat(messages()).hasSize(2);
    assertThat(again.subject()).startsWith("Still due: ");
    assertThat(again.earlier()).containsExactly(messages().get(0).messageId());
    List<DueHistory.Event> history = database.read(tx -> DueHistory.history(tx, open.get(0).id()));
    assertThat(history)
        .extracting(DueHistory.Event::what)
        .containsExactly(
            DueHistory.What.RAISED,
            DueHistory.What.TOLD,
            DueHistory.What.SNOOZED,
            DueHistory.What.REMINDED);
    DueItems.Due seen = database.read(tx -> DueItems.find(tx, open.get(1).id())).orElseThrow();
    assertThat(seen.seen()).map(DueItems.Seen::by).hasValue("Ben");
  }

  // What the API's own description says of a post to a webhook.
  private static List<String> asDescribed(String body) throws Exception {
    String openapi =
        new String(
            TellingTest.class.getResourceAsStream("/milewarden/openapi.json").readAllBytes(),
            StandardCharsets.UTF_8);
    String id = "https://milewarden.invalid/openapi.json";
    return SchemaRegistry.withDefaultDialect(
            SpecificationVersion.DRAFT_2020_12, b -> b.schemas(Map.of(id, openapi)))
        .getSchema(SchemaLocation.of(id + "#/components/schemas/HookPost"))
        .validate(body, InputFormat.JSON)
        .stream()
        .map(Object::toString)
        .toList();
  }

  @Test
  void programsAreToldTheSame() throws Exception {
    due(Judged.worse());
    tell(telling(true, "one@c.example"));
    Outbox.Message hook =
        messages().stream()
            .filter(m -> m.channel() == Outbox.Channel.HOOK)
            .findFirst()
            .orElseThrow();
    JsonNode body = new JsonMapper().readTree(hook.text());
    assertThat(body.get("id").asText()).isEqualTo(hook.messageId());
    assertThat(body.get("event").asText()).isEqualTo("due");
    assertThat(body.get("text").asText()).isEqualTo(messages().get(0).subject());
    assertThat(body.get("items").get(0).get("model").asText()).isEqualTo("Fell 2");
    assertThat(asDescribed(hook.text())).isEmpty();
    assertThat(asDescribed(hook.text().replace("\"event\":\"due\"", "\"event\":\"gone\"")))
        .isNotEmpty();
  }

  @Test
  void whoIsTakenAwayGetsNoDigestAndWhoChangesToAtOnceGetsWhatWaited() {
    choose("gone@c.example", Recipient.Delivery.DAILY_DIGEST);
    choose("changed@c.example", Recipient.Delivery.DAILY_DIGEST);
    Telling telling = telling(false);
    digest(telling);
    due(Judged.worse());
    tell(telling);
    database.change(tx -> Recipients.remove(tx, "gone@c.example"));
    choose("changed@c.example", Recipient.Delivery.IMMEDIATE);
    assertThat(digest(telling)).isTrue();
    assertThat(messages())
        .extracting(m -> m.recipient().orElse(""))
        .containsExactly("changed@c.example");
    now = now.plus(Duration.ofDays(2));
    assertThat(digest(telling)).isFalse();
  }
}

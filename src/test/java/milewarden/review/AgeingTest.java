package milewarden.review;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import milewarden.recipient.Audience;
import milewarden.report.Digits;
import milewarden.store.Database;
import milewarden.store.Id.ModelId;
import milewarden.store.Samples;
import milewarden.store.TestStores;
import milewarden.store.file.Batches;
import milewarden.store.judged.DueItems;
import milewarden.store.judged.Judgements;
import milewarden.store.run.Firmware;
import milewarden.store.run.Models;
import milewarden.store.told.Outbox;
import milewarden.units.UnitChoice;
import milewarden.verdict.DueItem;
import milewarden.verdict.ModelJudgement;
import milewarden.verdict.Policy;
import milewarden.verdict.VerdictState;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What time alone makes due, by the sweep that the scheduler runs, with a clock that is moved. */
final class AgeingTest {
  private static final ZoneId VIENNA = ZoneId.of("Europe/Vienna");

  @TempDir Path folder;
  private Database database;
  private Instant now = Samples.T0.plus(Duration.ofDays(10));
  private Review review;
  private ModelId model = new ModelId(0);

  @BeforeEach
  void publish() {
    database = TestStores.SQLITE.open(folder, () -> now);
    Policy policy = Policy.defaults();
    review =
        new Review(
            database,
            policy,
            VIENNA,
            Digits.of(UnitChoice.METRIC, Locale.ENGLISH, VIENNA),
            Optional.empty(),
            new Audience(List.of("one@c.example"), VIENNA, false),
            () -> {});
    database.change(
        tx -> {
          var course = Samples.put(tx, Samples.course("mill-lane", "v1"));
          for (int day = 0; day < 8; day++) {
            Instant start = Samples.T0.plus(Duration.ofDays(day));
            Samples.run(tx, "A1", "1.0", "day " + day, start, course, 0.2 + 0.05 * (day % 3));
          }
          Batches.close(tx);
        });
    model = database.read(tx -> Models.find(tx, "Model A")).orElseThrow().id();
    review.run();
    String refused =
        new Publishing(database, policy, VIENNA, () -> {})
            .publish(model, "1.0", "Good enough for pacing.", Optional.empty(), "Anna")
            .fold(done -> "", r -> r.sentence());
    assertThat(refused).isEmpty();
    review.run();
  }

  @AfterEach
  void close() {
    database.close();
  }

  /** The night's work. */
  private void sweep() {
    review.markOutdated();
    review.run();
  }

  private VerdictState state() {
    return database
        .read(tx -> Judgements.find(tx, model))
        .flatMap(ModelJudgement::verdict)
        .orElseThrow()
        .state();
  }

  private List<DueItem.Cause> due() {
    return database.read(tx -> DueItems.open(tx)).stream().map(d -> d.item().cause()).toList();
  }

  private int messages() {
    return database.read(tx -> Outbox.page(tx, Optional.empty(), 100)).size();
  }

  @Test
  void aVerdictIsStaleTwelveMonthsOfTheCalendarAfterItsDayAndThatIsToldOnce() {
    Instant twelveMonths = now.atZone(VIENNA).plusMonths(12).toInstant();
    int before = messages();
    now = twelveMonths.minusSeconds(60);
    sweep();
    assertThat(state()).isEqualTo(VerdictState.CURRENT);
    now = twelveMonths.plus(Duration.ofHours(25));
    sweep();
    assertThat(state()).isEqualTo(VerdictState.STALE);
    assertThat(due()).contains(DueItem.Cause.VERDICT_OLD);
    assertThat(messages()).isEqualTo(before + 1);
    // A clock that is set back by two days and comes again: the cause was told.
    now = now.minus(Duration.ofDays(2));
    sweep();
    now = now.plus(Duration.ofDays(4));
    sweep();
    assertThat(messages()).isEqualTo(before + 1);
  }

  @Test
  void aRetestThatIsDueForNinetyDaysOfTheCalendarMakesTheVerdictStale() {
    now = now.plus(Duration.ofDays(2));
    database.change(tx -> Firmware.seen(tx, model, "2.0", LocalDate.ofInstant(now, VIENNA)));
    sweep();
    assertThat(due()).contains(DueItem.Cause.NEWER_FIRMWARE);
    assertThat(state()).isEqualTo(VerdictState.RETEST_DUE);
    Instant raised =
        database.read(tx -> DueItems.open(tx)).stream()
            .filter(d -> d.item().cause() == DueItem.Cause.NEWER_FIRMWARE)
            .findFirst()
            .orElseThrow()
            .raisedAt();
    Instant ninetyDays = raised.atZone(VIENNA).plusDays(90).toInstant();
    now = ninetyDays.minusSeconds(60);
    sweep();
    assertThat(state()).isEqualTo(VerdictState.RETEST_DUE);
    now = ninetyDays.plus(Duration.ofHours(25));
    sweep();
    assertThat(state()).isEqualTo(VerdictState.STALE);
  }
}

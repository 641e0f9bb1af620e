package milewarden.review;

import static java.util.stream.Collectors.collectingAndThen;
import static java.util.stream.Collectors.groupingBy;
import static java.util.stream.Collectors.mapping;
import static java.util.stream.Collectors.toSet;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.file.Path;
import java.time.Duration;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.CancellationException;
import java.util.concurrent.atomic.AtomicInteger;
import milewarden.accuracy.Engine;
import milewarden.course.ReferenceCourse;
import milewarden.store.Database;
import milewarden.store.Id.RunId;
import milewarden.store.Samples;
import milewarden.store.TestStores;
import milewarden.store.file.Tags;
import milewarden.store.judged.AaRates;
import milewarden.store.run.EvidenceRows;
import milewarden.store.run.Exclusions;
import milewarden.store.run.Models;
import milewarden.store.run.Runs;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.PassEvidence.Exclusion;
import milewarden.verdict.Policy;
import milewarden.verdict.replay.AaRate;
import milewarden.verdict.replay.AaReplay;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.Parameter;
import org.junit.jupiter.params.ParameterizedClass;
import org.junit.jupiter.params.provider.EnumSource;

/** The rate of false alarms gives way to what goes first, on both databases. */
@ParameterizedClass
@EnumSource(TestStores.class)
final class FalseAlarmsTest {
  @Parameter TestStores stores;
  @TempDir Path folder;
  private final ReferenceCourse lane = Samples.course("mill-lane", "v1");
  private Database database;
  private FalseAlarms alarms;

  @BeforeEach
  void open() {
    database = stores.open(folder, () -> Samples.T0.plus(Duration.ofDays(90)));
    database.change(tx -> Samples.put(tx, lane));
    alarms = new FalseAlarms(database, Policy.defaults(), ZoneOffset.UTC);
  }

  @AfterEach
  void close() {
    database.close();
  }

  private RunId run(String unit, String firmware, int day, double... percents) {
    return database.write(
        tx ->
            Samples.run(
                tx,
                unit,
                firmware,
                "day " + day,
                Samples.T0.plus(Duration.ofDays(day)),
                lane,
                percents));
  }

  private void unchanged(int sessions) {
    for (int day = 0; day < sessions; day++)
      run("A1", "1.0", day, 0.2 + 0.05 * (day % 3), 0.25 + 0.03 * (day % 4));
  }

  private void exclude(RunId run, int pass) {
    database.change(
        tx -> Exclusions.exclude(tx, run, pass, Exclusion.Reason.INTERRUPTED, "me", "a dog"));
  }

  private Map<String, Integer> sessions(Models.Model model) {
    return database.read(tx -> EvidenceRows.sessions(tx, model.id(), Engine.VERSION));
  }

  /** Counted one by one from what the judge is handed. */
  private Map<String, Integer> counted(Models.Model model) {
    return database.read(tx -> Histories.of(tx, model)).passes().stream()
        .filter(p -> !p.control() && p.model().equals(model.name()) && p.exclusion().isEmpty())
        .collect(
            groupingBy(
                PassEvidence::firmware,
                mapping(PassEvidence::session, collectingAndThen(toSet(), Set::size))));
  }

  @Test
  void theStoreCountsTheSessionsThatTheJudgeIsHanded() {
    run("A1", "1.0", 0, 0.1, 0.2);
    run("A2", "1.0", 0, 0.1);
    run("A1", "2.0", 1, 0.1, 0.2);
    run("B1", "1.0", 1, 0.3);
    exclude(run("A1", "2.0", 2, 0.1, 0.2), 2);
    exclude(run("A1", "2.0", 3, 0.1, 0.2), Tags.WHOLE);
    RunId back = run("A1", "2.0", 4, 0.1);
    exclude(back, 1);
    database.change(tx -> Exclusions.lift(tx, back, 1, "me"));
    exclude(run("A1", "3.0", 5, 0.1), 1);
    RunId twice = run("A1", "2.0", 7, 0.1);
    database.change(tx -> Runs.hold(tx, twice, Optional.of(back)));
    run("A3", "1.0", 6, 0.4);
    database.change(tx -> Models.control(tx, Models.findUnit(tx, "A3").orElseThrow().id(), true));
    for (Models.Model model : database.read(Models::all))
      assertThat(sessions(model)).as(model.name()).isEqualTo(counted(model));
    Models.Model a = database.read(tx -> Models.find(tx, "Model A")).orElseThrow();
    assertThat(sessions(a)).containsOnly(Map.entry("1.0", 1), Map.entry("2.0", 3));
  }

  private record Counted(Models.Model model, String firmware, int sessions) {}

  /**
   * The whole of it from the passes that the judge is handed, with nothing counted by the store.
   */
  private AaRate fromAllPasses(int splits) {
    Policy policy = Policy.defaults();
    int least = policy.looks().get(0).sessions() + policy.insufficientSessions();
    List<Counted> all = new ArrayList<>();
    for (Models.Model model : database.read(Models::all))
      counted(model)
          .forEach(
              (firmware, n) -> {
                if (n >= least) all.add(new Counted(model, firmware, n));
              });
    all.sort(
        Comparator.comparing((Counted c) -> -c.sessions())
            .thenComparing(c -> c.model().name())
            .thenComparing(Counted::firmware));
    int each = Math.min(400, splits / all.size());
    List<AaReplay.Period> periods = new ArrayList<>();
    for (Counted c : all)
      AaReplay.of(
              database.read(tx -> Histories.of(tx, c.model())),
              c.firmware(),
              policy,
              ZoneOffset.UTC,
              each,
              20261125L ^ ((long) c.model().name().hashCode() << 32) ^ c.firmware().hashCode())
          .ifPresent(periods::add);
    return new AaRate(periods);
  }

  @Test
  void theRateIsThatOfAFullCountToTheLastDigit() {
    unchanged(12);
    for (int day = 0; day < 14; day++) {
      run("B1", "1.0", day, 0.4 * (day % 5), 0.3 * (day % 2));
      run("B2", "1.0", day, 0.1 * (day % 3));
      run("B1", "2.0", 20 + day, 0.5 * (day % 4), 0.2);
    }
    // Without these it had sessions enough, as the one above.
    for (int day = 0; day < 9; day++) exclude(run("A1", "2.0", 40 + day, 0.1 * day), Tags.WHOLE);
    exclude(run("B2", "2.0", 60, 0.7), 1);
    AaRate rate = alarms.measure(120);
    assertThat(rate).isEqualTo(fromAllPasses(120));
    assertThat(rate.periods())
        .extracting(p -> p.model() + " " + p.firmware())
        .containsExactly("Model B 1.0", "Model B 2.0", "Model A 1.0");
    assertThat(rate.splits()).isPositive();
  }

  @Test
  void itGivesWayBeforeEverySplit() {
    unchanged(12);
    AtomicInteger asked = new AtomicInteger();
    alarms.keepFresh(asked::incrementAndGet);
    int splits = database.read(AaRates::latest).orElseThrow().rate().splits();
    assertThat(splits).isPositive();
    // Before counting the model's sessions, before reading it, and before each split.
    assertThat(asked).hasValue(2 + splits);
  }

  @Test
  void brokenOffItKeepsNothingAndIsMeasuredAnotherTime() {
    unchanged(12);
    AtomicInteger asked = new AtomicInteger();
    assertThatThrownBy(
            () ->
                alarms.keepFresh(
                    () -> {
                      if (asked.incrementAndGet() > 5) throw new CancellationException("stop");
                    }))
        .isInstanceOf(CancellationException.class);
    assertThat(database.read(AaRates::latest)).isEmpty();
    alarms.keepFresh(() -> {});
    assertThat(database.read(AaRates::latest).orElseThrow().rate()).isEqualTo(alarms.measure(2000));
  }
}

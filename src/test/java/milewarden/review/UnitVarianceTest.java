package milewarden.review;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
import milewarden.course.ReferenceCourse;
import milewarden.recipient.Audience;
import milewarden.report.Digits;
import milewarden.store.Database;
import milewarden.store.Samples;
import milewarden.store.TestStores;
import milewarden.store.Tx;
import milewarden.store.judged.Judgements;
import milewarden.store.judged.UnitVariances;
import milewarden.store.run.Models;
import milewarden.units.UnitChoice;
import milewarden.verdict.ModelHistory.UnitVariance;
import milewarden.verdict.Policy;
import milewarden.verdict.ReleaseFigures;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.Parameter;
import org.junit.jupiter.params.ParameterizedClass;
import org.junit.jupiter.params.provider.EnumSource;

/**
 * The variance between units, pooled over the models on both databases. The units' errors add up
 * exactly, so the mean square of the rest is 0 and each variance is that of the units' means.
 */
@ParameterizedClass
@EnumSource(TestStores.class)
final class UnitVarianceTest {
  @Parameter TestStores stores;
  @TempDir Path folder;
  private Database database;

  @BeforeEach
  void open() {
    database = stores.open(folder, () -> Samples.T0.plus(Duration.ofDays(30)));
  }

  @AfterEach
  void close() {
    database.close();
  }

  /**
   * Three sessions of 0, 0.1 and 0.2 % in which these units are carried, each offset by its own.
   */
  private static void carry(Tx tx, ReferenceCourse course, String[] units, double... offsets) {
    for (int day = 0; day < 3; day++) {
      Instant start = Samples.T0.plus(Duration.ofDays(day));
      for (int u = 0; u < units.length; u++)
        Samples.run(tx, units[u], "1.0", units[0] + day, start, course, 0.1 * day + offsets[u]);
    }
  }

  private void judge() {
    new Review(
            database,
            Policy.defaults(),
            ZoneOffset.UTC,
            Digits.of(UnitChoice.METRIC, ZoneOffset.UTC),
            Optional.empty(),
            Audience.nobody(ZoneOffset.UTC),
            () -> {})
        .run();
  }

  private ReleaseFigures figures(String model) {
    return database
        .read(tx -> Judgements.find(tx, Models.find(tx, model).orElseThrow().id()).orElseThrow())
        .releases()
        .get(0)
        .pooled()
        .orElseThrow();
  }

  @Test
  void ofAllModelsStandsInForAModelOfOneUnit() {
    database.change(
        tx -> {
          ReferenceCourse course = Samples.put(tx, Samples.course("mill-lane", "v1"));
          carry(tx, course, new String[] {"A1", "A2"}, 0, 1);
          carry(tx, course, new String[] {"B1", "B2", "B3"}, 0, 2, 4);
        });
    judge();
    List<UnitVariance> each = database.read(UnitVariances::all);
    // Of 0 and 1: 1/2 with 1 degree of freedom; of 0, 2 and 4: 4 with 2.
    assertThat(each).hasSize(2);
    assertThat(each.get(0).variance()).isCloseTo(0.5, within(1e-9));
    assertThat(each.get(0).degreesOfFreedom()).isEqualTo(1);
    assertThat(each.get(1).variance()).isCloseTo(4, within(1e-9));
    assertThat(each.get(1).degreesOfFreedom()).isEqualTo(2);

    database.change(
        tx -> {
          ReferenceCourse course = Samples.put(tx, Samples.course("mill-lane", "v1"));
          carry(tx, course, new String[] {"C1"}, 0);
        });
    judge();
    // By their degrees of freedom: (1 x 0.5 + 2 x 4) / 3.
    assertThat(figures("Model C").unitSdPercent().orElseThrow())
        .isCloseTo(Math.sqrt(8.5 / 3), within(1e-9));
    assertThat(figures("Model C").theseUnitsOnly()).isFalse();
  }

  @Test
  void isLeftOutWhereNoModelTells() {
    database.change(
        tx ->
            carry(tx, Samples.put(tx, Samples.course("mill-lane", "v1")), new String[] {"C1"}, 0));
    judge();
    assertThat(database.read(UnitVariances::all)).isEmpty();
    assertThat(figures("Model C").unitSdPercent()).isEmpty();
    assertThat(figures("Model C").theseUnitsOnly()).isTrue();
  }
}

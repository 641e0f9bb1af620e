package milewarden.review.outing;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Random;
import milewarden.accuracy.Engine;
import milewarden.course.ReferenceCourse;
import milewarden.store.Database;
import milewarden.store.Samples;
import milewarden.store.TestStores;
import milewarden.store.run.EvidenceRows;
import milewarden.store.run.Models;
import milewarden.verdict.PassEvidence;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.Parameter;
import org.junit.jupiter.params.ParameterizedClass;
import org.junit.jupiter.params.provider.EnumSource;

/** What is kept of a model's passes says of its next sheet what all of them say. */
@ParameterizedClass
@EnumSource(TestStores.class)
final class LastPassesTest {
  private static final String[] COURSES = {"mill-lane", "pier", "long-meadow"};
  private static final String[] UNITS = {"A1", "A2", "A3", "C1", "C2"};
  @Parameter TestStores stores;
  @TempDir Path folder;
  private Database database;

  @BeforeEach
  void open() {
    database = stores.open(folder, () -> Samples.T0.plus(Duration.ofDays(90)));
    Random random = new Random(5);
    database.change(
        tx -> {
          for (String slug : COURSES) Samples.put(tx, Samples.course(slug, "v1"));
          for (int day = 0; day < 30; day++) {
            ReferenceCourse course = Samples.course(COURSES[random.nextInt(3)], "v1");
            for (String unit : UNITS)
              if (random.nextInt(3) > 0)
                Samples.run(
                    tx,
                    unit,
                    "1." + day / 10,
                    "day " + day,
                    Samples.T0.plus(Duration.ofDays(day)),
                    course,
                    0.1,
                    0.2);
          }
          for (String unit : List.of("C1", "C2"))
            Models.control(tx, Models.findUnit(tx, unit).orElseThrow().id(), true);
        });
  }

  @AfterEach
  void close() {
    database.close();
  }

  @Test
  void theFewThatAreKeptSayTheSameAsAll() {
    database.read(
        tx -> {
          Models.Model model = Models.find(tx, "Model A").orElseThrow();
          List<EvidenceRows.Placed> all = EvidenceRows.placed(tx, model.id(), Engine.VERSION);
          LastPasses whole = new LastPasses(all);
          LastPasses kept = LastPasses.of(tx, model.id());
          assertThat(LastPasses.lasting(all).size()).isLessThan(all.size() / 2);
          assertThat(kept.controls()).isNotEmpty().isEqualTo(whole.controls());
          assertThat(kept.repeated("Model A")).isPresent().isEqualTo(whole.repeated("Model A"));
          for (EvidenceRows.Placed pass : all)
            for (String unit : UNITS)
              assertThat(kept.tags(tx, unit, pass.evidence().condition()))
                  .isEqualTo(whole.tags(tx, unit, pass.evidence().condition()));
          return all;
        });
  }

  @Test
  void theCoarsestStepIsThatOfAllPasses() {
    database.read(
        tx -> {
          for (Models.Model model : Models.all(tx))
            assertThat(EvidenceRows.coarsestStep(tx, model.id(), Engine.VERSION))
                .as(model.name())
                .isEqualTo(
                    EvidenceRows.of(tx, model.id(), Engine.VERSION).stream()
                        .filter(p -> !p.control())
                        .mapToDouble(PassEvidence::displayStepM)
                        .filter(x -> x > 0)
                        .max());
          return 0;
        });
  }
}

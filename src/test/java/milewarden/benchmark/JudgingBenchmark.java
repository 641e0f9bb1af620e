package milewarden.benchmark;

import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import milewarden.accuracy.Errors;
import milewarden.course.Direction;
import milewarden.course.SkyView;
import milewarden.device.Carriage;
import milewarden.device.FirmwareRelease;
import milewarden.device.Gait;
import milewarden.verdict.Condition;
import milewarden.verdict.Look;
import milewarden.verdict.ModelHistory;
import milewarden.verdict.ModelJudgement;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.Policy;
import milewarden.verdict.judging.Judge;

/**
 * A year of a small lab judged again from scratch: 60 models, 6 releases each, 20,160 runs. Warm.
 */
public final class JudgingBenchmark {
  private static final LocalDate FIRST = LocalDate.of(2026, 1, 5);
  private static final int MODELS = 60;
  private static final int RELEASES = 6;
  private static final int SESSIONS = 14;
  private static final int TIMES = 16;
  private static final int FEWER_MODELS = 10;

  private JudgingBenchmark() {}

  static void measure(Table table) {
    List<ModelHistory> all = new ArrayList<>();
    for (int m = 0; m < MODELS; m++) all.add(history(m, SESSIONS, List.of()));
    Instant now = at(FIRST.plusDays(500));
    List<Double> whole = new ArrayList<>();
    for (int round = 0; round <= 5; round++) {
      CpuTime.Start start = CpuTime.start();
      for (ModelHistory h : all) Judge.judge(h, Policy.defaults(), now, ZoneOffset.UTC);
      // The first round warms it up.
      if (round > 0) whole.add(start.ns() / 1e9);
    }
    int runs = all.stream().mapToInt(h -> h.passes().size()).sum();
    table.most(
        "judging %,d runs of %d models from scratch".formatted(runs, MODELS),
        "%s s of processor".formatted(Table.of(Median.of(whole))),
        Median.of(whole),
        3,
        " s");
    ModelJudgement before = Judge.judge(all.get(0), Policy.defaults(), now, ZoneOffset.UTC);
    ModelHistory again = history(0, SESSIONS, before.looks());
    List<Double> one = new ArrayList<>();
    for (int i = 0; i < 50; i++) {
      CpuTime.Start start = CpuTime.start();
      Judge.judge(again, Policy.defaults(), now, ZoneOffset.UTC);
      one.add(start.ns() / 1e6);
    }
    table.most(
        "judging one model again after a new run",
        "%s ms".formatted(Table.of(Median.of(one))),
        Median.of(one),
        20,
        " ms");
    grows(table, at(FIRST.plusDays(2000)));
    growsWithModels(table, all, now);
  }

  /** Both are judged as often as it takes to have judged as many. */
  private static void growsWithModels(Table table, List<ModelHistory> all, Instant now) {
    int few = MODELS / FEWER_MODELS;
    List<Double> ofFew = new ArrayList<>();
    List<Double> ofAll = new ArrayList<>();
    for (int round = 0; round < 5; round++) {
      double sum = 0;
      for (int from = 0; from < MODELS; from += few)
        sum += judgeNs(all.subList(from, from + few), now);
      ofFew.add(sum / FEWER_MODELS);
      ofAll.add(judgeNs(all, now));
    }
    double exponent = GrowthSpeed.exponent(few, Median.of(ofFew), MODELS, Median.of(ofAll));
    table.most(
        "growth of judging with the models, %d to %d".formatted(few, MODELS),
        "exponent %s: each is judged by itself".formatted(Table.of(exponent)),
        exponent,
        1.05,
        "");
  }

  /**
   * Over a range so wide that it tells how the work grows: between its ends a comparison's
   * permutation test counts every way to deal up to 36 sessions, which costs the most, and draws
   * from there on. Several models, since what is found in one costs more than in another.
   */
  private static void grows(Table table, Instant now) {
    List<ModelHistory> small = alike(SESSIONS);
    List<ModelHistory> large = alike(TIMES * SESSIONS);
    for (int i = 0; i < 10; i++) judgeNs(small, now);
    for (int i = 0; i < 2; i++) judgeNs(large, now);
    List<Double> few = new ArrayList<>();
    List<Double> many = new ArrayList<>();
    for (int round = 0; round < 5; round++) {
      double sum = 0;
      for (int i = 0; i < TIMES; i++) sum += judgeNs(small, now);
      few.add(sum / TIMES);
      many.add(judgeNs(large, now));
    }
    int less = small.get(0).passes().size();
    int more = large.get(0).passes().size();
    double exponent = GrowthSpeed.exponent(less, Median.of(few), more, Median.of(many));
    table.most(
        "growth of judging with the runs of a model, %d to %d".formatted(less, more),
        "exponent %s: what is said of a run is worked out once, and the permutation test of a comparison has a bound"
            .formatted(Table.of(exponent)),
        exponent,
        1.05,
        "");
  }

  private static List<ModelHistory> alike(int sessions) {
    List<ModelHistory> models = new ArrayList<>();
    for (int seed = 1; seed <= 4; seed++) models.add(history(seed, sessions, List.of()));
    return models;
  }

  private static double judgeNs(List<ModelHistory> models, Instant now) {
    CpuTime.Start start = CpuTime.start();
    for (ModelHistory m : models) Judge.judge(m, Policy.defaults(), now, ZoneOffset.UTC);
    return start.ns();
  }

  private static Instant at(LocalDate day) {
    return day.atTime(7, 0).toInstant(ZoneOffset.UTC);
  }

  private static ModelHistory history(int seed, int sessions, List<Look> looks) {
    SplittableRandom random = new SplittableRandom(seed);
    List<ModelHistory.Release> releases = new ArrayList<>();
    List<PassEvidence> passes = new ArrayList<>();
    for (int r = 0; r < RELEASES; r++) {
      LocalDate from = FIRST.plusDays((long) Math.max(60, sessions) * r);
      String version = "1." + r;
      releases.add(
          new ModelHistory.Release(
              new FirmwareRelease(version, from, false), Optional.of(at(from))));
      for (int s = 0; s < sessions; s++) {
        double sky = 0.4 * random.nextGaussian();
        for (int k = 0; k < 2; k++)
          for (int unit = 0; unit < 2; unit++)
            passes.add(
                pass(
                    passes.size(),
                    from.plusDays(s),
                    version,
                    k,
                    unit,
                    1 + sky + 0.3 * random.nextGaussian()));
      }
    }
    return new ModelHistory(
        "Model", releases, passes, List.of(), looks, List.of(), Optional.empty());
  }

  private static PassEvidence pass(
      int id, LocalDate day, String version, int condition, int unit, double error) {
    return new PassEvidence(
        id,
        "outing-" + day,
        at(day),
        day,
        "Model",
        "unit-" + unit,
        false,
        version,
        new Condition(
            "loop",
            "v1",
            SkyView.OPEN,
            condition == 0 ? Carriage.FIXED : Carriage.SWING_LEFT,
            Gait.RUN,
            ""),
        id % 4 < 2 ? Direction.FORWARD : Direction.REVERSE,
        new Errors(
            OptionalDouble.of(error),
            OptionalDouble.of(error + 0.1),
            OptionalDouble.empty(),
            Optional.empty()),
        2000,
        0.05,
        Double.NaN,
        Optional.empty());
  }
}

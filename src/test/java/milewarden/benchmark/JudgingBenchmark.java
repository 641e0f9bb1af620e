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
  // Judgings of one model after which the optimizer has nothing left to do.
  private static final int WARM_UP = 600;

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
    again(table, all.subList(0, FEWER_MODELS), now);
    grows(table, at(FIRST.plusDays(2000)));
    growsWithModels(table, all, now);
  }

  /** What is known of a model when it was judged, and one run more of its newest release. */
  private static void again(Table table, List<ModelHistory> models, Instant now) {
    List<ModelHistory> again = new ArrayList<>();
    for (ModelHistory whole : models) {
      List<PassEvidence> passes = whole.passes();
      ModelHistory before = whole.withPasses(passes.subList(0, passes.size() - 1));
      ModelJudgement judged = Judge.judge(before, Policy.defaults(), now, ZoneOffset.UTC);
      again.add(
          new ModelHistory(
              whole.model(),
              whole.releases(),
              passes,
              List.of(),
              judged.looks(),
              List.of(),
              Optional.empty()));
    }
    for (int i = 0; i < WARM_UP / models.size(); i++) judgeNs(again, now);
    List<Double> one = new ArrayList<>();
    for (int i = 0; i < 25; i++) one.add(judgeNs(again, now) / again.size() / 1e6);
    table.most(
        "judging one model again after a new run",
        "%s ms".formatted(Table.of(Median.of(one))),
        Median.of(one),
        20,
        " ms");
  }

  /**
   * Both are judged as often as it takes to have judged as many; over all rounds each model is one
   * of the few as often as any other.
   */
  private static void growsWithModels(Table table, List<ModelHistory> all, Instant now) {
    int few = MODELS / FEWER_MODELS;
    double ofFew = 0;
    double ofAll = 0;
    for (int from = 0; from < MODELS; from += few) {
      List<ModelHistory> some = all.subList(from, from + few);
      List<ModelHistory> asMany = new ArrayList<>();
      for (int i = 0; i < FEWER_MODELS; i++) asMany.addAll(some);
      ofFew += judgeNs(asMany, now) / FEWER_MODELS;
      ofAll += judgeNs(all, now);
    }
    double exponent = GrowthSpeed.exponent(few, ofFew, MODELS, ofAll);
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
    for (int i = 0; i < WARM_UP / small.size(); i++) judgeNs(small, now);
    for (int i = 0; i < WARM_UP / small.size() / TIMES; i++) judgeNs(large, now);
    List<Double> few = new ArrayList<>();
    List<Double> many = new ArrayList<>();
    List<ModelHistory> asMany = new ArrayList<>();
    for (int i = 0; i < TIMES; i++) asMany.addAll(small);
    for (int round = 0; round < 9; round++) {
      few.add(judgeNs(asMany, now) / TIMES);
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

  // Many of them at a time: to ask the system for the time of every thread takes a millisecond.
  private static double judgeNs(List<ModelHistory> models, Instant now) {
    CpuTime.Start start = CpuTime.startWarm();
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

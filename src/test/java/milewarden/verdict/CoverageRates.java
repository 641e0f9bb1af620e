package milewarden.verdict;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import milewarden.accuracy.Errors;
import milewarden.course.Direction;
import milewarden.units.PercentRange;
import milewarden.verdict.DecisionRates.Rate;
import milewarden.verdict.figures.Deciding;
import milewarden.verdict.figures.Evidence;
import milewarden.verdict.figures.FigureSheet;

/** How often the intervals of the figures hold what is true, and how often a threshold flips. */
public final class CoverageRates {
  private CoverageRates() {}

  /**
   * A release of a device that truly reads {@code 0} on average; all in percent.
   *
   * @param passes of each unit in each session, alternating in direction
   * @param reference standard uncertainty of the course, whose error is one draw for all runs
   */
  public record Lab(
      int sessions,
      int units,
      int passes,
      double session,
      double pass,
      double unit,
      double reference) {}

  /**
   * Shares of intervals that hold the truth.
   *
   * @param mean the interval of the mean error
   * @param next the interval of the next run, of a unit of its own where the units' variance is in
   */
  public record Coverage(Rate mean, Rate next) {}

  public static Coverage coverage(Lab lab, long seed, int n) {
    Policy policy = Policy.defaults();
    double[] counts =
        Replications.counts(
            seed,
            n,
            2,
            (random, sum) -> {
              double reference = lab.reference() * random.nextGaussian();
              Evidence e = Evidence.of(Source.TRACK, passes(lab, reference, random));
              ReleaseFigures f = FigureSheet.of(e, Optional.empty(), policy, Optional.empty());
              if (holds(f.interval().orElseThrow(), 0)) sum[0]++;
              double one =
                  lab.unit() * random.nextGaussian()
                      + lab.session() * random.nextGaussian()
                      + lab.pass() * random.nextGaussian();
              if (holds(f.nextRun().orElseThrow(), one)) sum[1]++;
            });
    return new Coverage(new Rate(counts[0] / n, n), new Rate(counts[1] / n, n));
  }

  private static boolean holds(PercentRange r, double x) {
    return r.low() <= x && x <= r.high();
  }

  private static List<PassEvidence> passes(Lab lab, double reference, SplittableRandom random) {
    double[] units = new double[lab.units()];
    for (int u = 0; u < units.length; u++) units[u] = lab.unit() * random.nextGaussian();
    List<PassEvidence> passes = new ArrayList<>();
    for (int day = 0; day < lab.sessions(); day++) {
      double session = lab.session() * random.nextGaussian();
      for (int u = 0; u < units.length; u++)
        for (int p = 0; p < lab.passes(); p++)
          passes.add(
              pass(
                  passes.size(),
                  day,
                  u,
                  p % 2,
                  reference + units[u] + session + lab.pass() * random.nextGaussian(),
                  lab.reference()));
    }
    return passes;
  }

  private static PassEvidence pass(
      int id, int day, int unit, int way, double error, double reference) {
    return new PassEvidence(
        id,
        "day-" + day,
        Campaign.at(Campaign.FIRST.plusDays(day)),
        Campaign.FIRST.plusDays(day),
        "Alder",
        "unit-" + unit,
        false,
        "1.0",
        Campaign.LOOP,
        Direction.values()[way],
        new Errors(
            OptionalDouble.of(error),
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            Optional.empty()),
        2000,
        reference,
        Double.NaN,
        Optional.empty());
  }

  /** Flips of the threshold per 20 sessions where the true bias is the limit, spread L / 2. */
  public static double flipsAtTheLimit(long seed, int n) {
    Policy policy = Policy.defaults();
    Policy.Purpose training = new Policy.Purpose("training", 2, 5);
    double[] flips =
        Replications.counts(
            seed,
            n,
            1,
            (random, sum) -> {
              List<PassEvidence> passes = new ArrayList<>();
              for (int day = 0; day < 20; day++)
                passes.add(pass(day, day, 0, 0, 2 + random.nextGaussian(), 0));
              Source.Choice source = Source.choose(List.of(passes), 2, policy);
              sum[0] +=
                  Deciding.threshold(
                          Evidence.of(Source.TRACK, passes),
                          training,
                          source,
                          policy,
                          Optional.empty())
                      .flips();
            });
    return flips[0] / n;
  }
}

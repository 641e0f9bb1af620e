package milewarden.verdict.figures;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.statistics.Contrast;
import milewarden.statistics.Precision;
import milewarden.statistics.Sample;
import milewarden.statistics.UncertaintySum;
import milewarden.units.PercentRange;
import milewarden.verdict.ModelHistory;
import milewarden.verdict.PassError;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.SessionFigure;

/**
 * What one more pass will show: the mean's uncertainty, and the spread of sessions, passes, units
 * and of the reference.
 *
 * @param passVariance within outing, unit and condition; empty where no unit repeated a pass
 * @param precision of sessions that are alike, one unit in one condition each; empty where they are
 *     not, or no pass was repeated
 */
public record NextRun(
    MeanError mean,
    OptionalDouble passVariance,
    UncertaintySum spread,
    double perSession,
    Optional<Precision> precision) {
  public static NextRun of(Evidence e, MeanError mean) {
    Sample within = within(e);
    double k = passesPerSession(e);
    UncertaintySum sum = UncertaintySum.NONE;
    OptionalDouble pass = OptionalDouble.empty();
    double s2 = mean.variance();
    if (within.n() > 0) {
      double p2 = within.mean();
      pass = OptionalDouble.of(p2);
      // s squared holds a k-th of the passes' variance already; what is left is the session's own.
      double df = mean.degreesOfFreedom();
      if (s2 > p2 / k)
        sum = sum.plus(s2 * (1 + mean.leverage()), df).plus(p2 * (1 - 1 / k), within.n());
      else {
        // Sessions that differ less than their passes let expect are more passes: all of them
        // pooled,
        // as restricted maximum likelihood has it at its bound (Patterson and Thompson 1971).
        double all = (within.n() * p2 + df * k * s2) / (within.n() + df);
        sum = sum.plus(s2 * mean.leverage(), df).plus(all, within.n() + df);
      }
    } else {
      sum = sum.plus(s2 * (1 + mean.leverage()), mean.degreesOfFreedom());
    }
    sum = sum.plus(mean.referenceVariance(), Double.POSITIVE_INFINITY);
    if (mean.unit().isPresent()) {
      ModelHistory.UnitVariance u = mean.unit().get();
      sum = sum.plus(u.variance() * (1 + 1.0 / mean.units()), u.degreesOfFreedom());
    }
    return new NextRun(mean, pass, sum, k, precision(e, within.n()));
  }

  /**
   * Pooled variance of passes about their unit's mean, as mean, with its degrees of freedom as n.
   */
  private static Sample within(Evidence e) {
    double squares = 0;
    int df = 0;
    double[] errors = new double[e.passes().size()];
    for (int from = 0; from < errors.length; ) {
      // Passes lie in order of session, condition and unit.
      int to = from;
      double sum = 0;
      while (to < errors.length && alike(e.passes().get(from), e.passes().get(to))) {
        errors[to] = PassError.of(e.passes().get(to), e.source()).orElseThrow().asRead();
        sum += errors[to++];
      }
      double mean = sum / (to - from);
      for (int i = from; i < to; i++) squares += (errors[i] - mean) * (errors[i] - mean);
      df += to - from - 1;
      from = to;
    }
    return new Sample(df, df == 0 ? 0 : squares / df, squares);
  }

  private static boolean alike(PassEvidence a, PassEvidence b) {
    return a.session().equals(b.session())
        && a.unit().equals(b.unit())
        && a.condition().equals(b.condition());
  }

  private static Optional<Precision> precision(Evidence e, int repeated) {
    if (repeated == 0 || e.sessions().size() < 2 || e.conditions().size() > 1)
      return Optional.empty();
    if (e.units().size() > 1) return Optional.empty();
    Map<String, List<Double>> groups = new LinkedHashMap<>();
    for (PassEvidence p : e.passes())
      groups
          .computeIfAbsent(p.session(), k -> new ArrayList<>())
          .add(PassError.of(p, e.source()).orElseThrow().asRead());
    return Optional.of(
        Precision.of(
            groups.values().stream()
                .map(g -> g.stream().mapToDouble(Double::doubleValue).toArray())
                .toList()));
  }

  /** The harmonic mean, since variances of means go by 1 / k. */
  private static double passesPerSession(Evidence e) {
    double sum = 0;
    for (SessionFigure s : e.sessions()) sum += 1.0 / s.passes();
    return e.sessions().size() / sum;
  }

  /** The prediction interval of one pass at this confidence. */
  public PercentRange interval(double level) {
    double half = spread.expanded(level);
    return new PercentRange(mean.low() - half, mean.high() + half);
  }

  /** One pass at the mean's unfavourable end. */
  Contrast atUnfavourableEnd() {
    return new Contrast(
        mean.unfavourable(), spread.standardUncertainty(), spread.degreesOfFreedom());
  }

  /** Standard deviation of one pass over sessions, without units and reference. */
  double passAndSessionSd() {
    if (precision.isPresent()) return Math.sqrt(precision.get().reproducibilityVariance());
    double s2 = mean.variance();
    if (passVariance.isEmpty()) return Math.sqrt(s2);
    double p2 = passVariance.getAsDouble();
    return Math.sqrt(p2 + Math.max(0, s2 - p2 / perSession));
  }
}

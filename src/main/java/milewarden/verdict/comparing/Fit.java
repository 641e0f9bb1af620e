package milewarden.verdict.comparing;

import java.util.Arrays;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.statistics.Contrast;
import milewarden.statistics.Distributions;
import milewarden.statistics.LeastSquares;
import milewarden.statistics.Sample;
import milewarden.verdict.Policy;

/**
 * The least squares fit of blocks, firmware and, where enough sessions carried one, the control
 * unit.
 *
 * @param contrast of the firmware; empty where the blocks leave nothing to tell it by
 * @param candidate the sessions' figures with the blocks' effects (and the control's) taken out,
 *     the firmware's left in
 * @param baseline likewise
 * @param sd residual standard deviation; NaN where unknown
 * @param adjusted true where the control is taken out
 * @param slope by which the control is taken out, 0 to 1; empty where it isn't
 * @param leftOut sessions left out of the adjusted fit, because they carried no control
 */
record Fit(
    Optional<Contrast> contrast,
    double[] candidate,
    double[] baseline,
    double sd,
    boolean adjusted,
    OptionalDouble slope,
    int leftOut) {
  // Two-sided, of the F test on the ratio of variances. Three sessions against eight differ by a
  // ratio of standard deviations above 1.5 in half of all cases by chance alone (simulated): then
  // Welch's test would take from the first look half of what it finds, and guard against nothing.
  private static final double CHANCE = 0.10;

  /**
   * By the rows as they are, or adjusted by the control where the policy's sessions carried one.
   */
  static Fit of(Rows rows, double offsetError, Policy policy) {
    Rows paired = rows.paired();
    boolean enough =
        paired.size() >= policy.controlSessions()
            && paired.candidates() >= Math.min(rows.candidates(), policy.looks().get(0).sessions())
            && paired.baselines() >= policy.insufficientSessions();
    if (enough) {
      Fit fit = adjusted(paired, rows.size() - paired.size(), offsetError);
      if (fit.contrast().isPresent()) return fit;
    }
    return fit(rows, new double[0][], 0, 0);
  }

  private static Fit adjusted(Rows rows, int leftOut, double offsetError) {
    double slope =
        LeastSquares.coefficient(rows.y(), with(rows.blocks(), rows.firmware()), rows.control())
            .map(Contrast::estimate)
            .orElse(0.0);
    double held = Math.max(0, Math.min(1, slope));
    // Beyond its bounds the slope is held there; its degree of freedom stays paid.
    Fit fit =
        slope == held
            ? fit(rows, new double[][] {rows.control()}, 0, 0)
            : fit(rows, new double[0][], held, 1);
    double moved = held * rows.movedApart() * offsetError;
    Optional<Contrast> contrast =
        fit.contrast()
            .map(
                k ->
                    moved == 0
                        ? k
                        : new Contrast(
                            k.estimate(),
                            Math.hypot(k.standardError(), moved),
                            k.degreesOfFreedom()));
    return new Fit(
        contrast,
        fit.candidate(),
        fit.baseline(),
        fit.sd(),
        true,
        OptionalDouble.of(held),
        leftOut);
  }

  private static double[][] with(double[][] columns, double[] more) {
    double[][] all = Arrays.copyOf(columns, columns.length + 1);
    all[columns.length] = more;
    return all;
  }

  private static Fit fit(Rows rows, double[][] covariates, double held, int paid) {
    double[] y = rows.y().clone();
    if (held != 0) for (int i = 0; i < y.length; i++) y[i] -= held * rows.control()[i];
    double[][] others = rows.blocks();
    for (double[] covariate : covariates) others = with(others, covariate);
    double[] firmware = rows.firmware();
    Optional<Contrast> contrast = LeastSquares.coefficient(y, others, firmware);
    for (int i = 0; i < paid; i++)
      contrast = contrast.filter(k -> k.degreesOfFreedom() > 1).map(Fit::oneLess);
    double d = contrast.map(Contrast::estimate).orElse(0.0);
    for (int i = 0; i < y.length; i++) y[i] -= d * firmware[i];
    double[] rest = LeastSquares.residuals(y, others);
    double squares = 0;
    for (double r : rest) squares += r * r;
    for (int i = 0; i < rows.candidates(); i++) rest[i] += d;
    return new Fit(
        contrast,
        Arrays.copyOfRange(rest, 0, rows.candidates()),
        Arrays.copyOfRange(rest, rows.candidates(), rest.length),
        contrast.isPresent() ? Math.sqrt(squares / contrast.get().degreesOfFreedom()) : Double.NaN,
        false,
        OptionalDouble.empty(),
        0);
  }

  private static Contrast oneLess(Contrast k) {
    double df = k.degreesOfFreedom();
    return new Contrast(k.estimate(), k.standardError() * Math.sqrt(df / (df - 1)), df - 1);
  }

  /**
   * Welch's test, where the standard deviations differ by more than the policy's ratio and chance
   * is no good reason for it.
   */
  Optional<Contrast> welch(Policy policy) {
    if (candidate.length < 2 || baseline.length < 2 || contrast.isEmpty()) return Optional.empty();
    Sample c = Sample.of(candidate);
    Sample b = Sample.of(baseline);
    boolean candidateMore = c.variance() > b.variance();
    Sample more = candidateMore ? c : b;
    Sample less = candidateMore ? b : c;
    if (more.sd() <= policy.standardRatio() * less.sd()) return Optional.empty();
    if (less.variance() > 0
        && 2
                * Distributions.fSurvival(
                    more.variance() / less.variance(), more.n() - 1.0, less.n() - 1.0)
            >= CHANCE) return Optional.empty();
    // The blocks have taken part of the residuals' squares: given back in the same measure.
    double given = (c.n() + b.n() - 2.0) / contrast.get().degreesOfFreedom();
    return Optional.of(
        Contrast.welch(
            new Sample(c.n(), c.mean(), c.sumOfSquares() * given),
            new Sample(b.n(), b.mean(), b.sumOfSquares() * given)));
  }
}

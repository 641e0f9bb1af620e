package milewarden.report.page;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.List;
import java.util.Optional;
import java.util.stream.DoubleStream;
import milewarden.report.Digits;
import milewarden.units.PercentRange;
import milewarden.verdict.Findings;
import milewarden.verdict.ModelJudgement;
import milewarden.verdict.Policy;
import milewarden.verdict.ReleaseFigures;

/**
 * A mean and its interval drawn small against limits: positions in a box 160 wide and 24 high, zero
 * in the middle.
 *
 * @param limitsX ticks of the limits, left to right
 * @param words the same in words, for those who don't see it
 */
public record Strip(
    double meanPercent,
    double lowPercent,
    double highPercent,
    double lowX,
    double widthX,
    double meanX,
    List<Double> limitsX,
    String lozenge,
    String words) {
  private static final double WIDTH = 160;
  private static final double MIDDLE = WIDTH / 2;
  // Room for half a lozenge at either end.
  private static final double MARGIN = 8;

  public Strip {
    limitsX = List.copyOf(limitsX);
  }

  /**
   * @param scalePercent the error at either end of the strip, above 0
   * @param limitsPercent sizes of limits, drawn on both sides
   */
  public static Strip of(
      double meanPercent,
      double lowPercent,
      double highPercent,
      double scalePercent,
      List<Double> limitsPercent,
      String words) {
    double low = x(lowPercent, scalePercent);
    double high = x(highPercent, scalePercent);
    double mean = x(meanPercent, scalePercent);
    List<Double> ticks =
        limitsPercent.stream()
            .filter(l -> l <= scalePercent)
            .flatMap(l -> List.of(x(-l, scalePercent), x(l, scalePercent)).stream())
            .sorted()
            .toList();
    return new Strip(
        meanPercent,
        lowPercent,
        highPercent,
        low,
        Math.max(1, high - low),
        mean,
        ticks,
        lozenge(mean),
        words);
  }

  /** The scale on which all releases of a model fit: one for a table. */
  public static double scaleOf(ModelJudgement judged) {
    return scaleOf(judged.releases().stream().flatMap(r -> r.pooled().stream()).toList());
  }

  public static double scaleOf(List<ReleaseFigures> figures) {
    double most = figures.stream().flatMapToDouble(Strip::ends).map(Math::abs).max().orElse(1);
    // The next round half percent: the tick of a limit then stands at the same place for long.
    return Math.max(1, Math.ceil(2.2 * most) / 2);
  }

  private static DoubleStream ends(ReleaseFigures f) {
    PercentRange range = f.interval().orElse(PercentRange.exactly(f.meanPercent()));
    return DoubleStream.of(range.low(), range.high());
  }

  public static Optional<Strip> of(
      Findings.OfRelease r, Policy policy, double scale, Digits digits) {
    return r.pooled().flatMap(f -> of(f, policy, scale, digits));
  }

  /** Empty where the mean has no interval yet. */
  public static Optional<Strip> of(ReleaseFigures f, Policy policy, double scale, Digits digits) {
    List<Double> limits =
        policy.purposes().stream().map(Policy.Purpose::meanLimitPercent).sorted().toList();
    return f.interval()
        .map(
            i ->
                of(
                    f.meanPercent(),
                    i.low(),
                    i.high(),
                    scale,
                    limits,
                    "95 % interval "
                        + digits.interval(i)
                        + ", on a strip from "
                        + digits.percent(-scale)
                        + " to "
                        + digits.percent(scale)));
  }

  private static String lozenge(double x) {
    String middle = tenths(x);
    return tenths(x - 5) + ",12 " + middle + ",6 " + tenths(x + 5) + ",12 " + middle + ",18";
  }

  /**
   * A coordinate for a drawing, above 0. Format strings, taken apart anew for each of hundreds of
   * points, took a third of the overview's time.
   */
  public static String tenths(double coordinate) {
    return BigDecimal.valueOf(coordinate).setScale(1, RoundingMode.HALF_UP).toPlainString();
  }

  private static double x(double percent, double scale) {
    double cut = Math.max(-scale, Math.min(scale, percent));
    return Math.round(10 * (MIDDLE + cut / scale * (MIDDLE - MARGIN))) / 10.0;
  }
}

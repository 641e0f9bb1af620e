package milewarden.report.paper;

import java.util.OptionalDouble;
import milewarden.units.PercentRange;
import milewarden.verdict.ReleaseFigures;

/**
 * The pooled figures for programs: percent of the reference, plus reads long, not rounded. Meanings
 * are those of {@link ReleaseFigures}.
 */
public record Numbers(
    int sessions,
    int days,
    int units,
    int passes,
    double meanPercent,
    OptionalDouble sdPercent,
    OptionalDouble standardUncertaintyPercent,
    OptionalDouble degreesOfFreedom,
    OptionalDouble expandedUncertaintyPercent,
    OptionalDouble lowPercent,
    OptionalDouble highPercent,
    OptionalDouble nextRunLowPercent,
    OptionalDouble nextRunHighPercent) {
  static Numbers of(ReleaseFigures f) {
    return new Numbers(
        f.sessions(),
        f.days(),
        f.units(),
        f.passes(),
        f.meanPercent(),
        f.sdPercent(),
        f.standardUncertaintyPercent(),
        f.degreesOfFreedom(),
        f.expandedUncertaintyPercent(),
        low(f.interval()),
        high(f.interval()),
        low(f.nextRun()),
        high(f.nextRun()));
  }

  static OptionalDouble low(java.util.Optional<PercentRange> range) {
    return range.map(r -> OptionalDouble.of(r.low())).orElse(OptionalDouble.empty());
  }

  static OptionalDouble high(java.util.Optional<PercentRange> range) {
    return range.map(r -> OptionalDouble.of(r.high())).orElse(OptionalDouble.empty());
  }
}

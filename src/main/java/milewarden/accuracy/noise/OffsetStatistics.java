package milewarden.accuracy.noise;

import java.util.Optional;
import java.util.OptionalDouble;

/**
 * Signed distances from the centreline in metres, right of the direction of travel positive.
 * Percentiles are linear between order statistics (Hyndman and Fan type 7).
 */
public record OffsetStatistics(
    double meanM,
    double robustSigmaM,
    double rmsM,
    double medianAbsM,
    double p95AbsM,
    double maxAbsM,
    OptionalDouble correlationTimeS,
    Optional<Uncertainty> uncertainty) {
  public OffsetStatistics {
    // Results of earlier engines have none.
    uncertainty = uncertainty == null ? Optional.empty() : uncertainty;
  }

  /**
   * Half-widths of 95 % intervals in metres, and the intervals of two quantiles and of the
   * correlation time, for errors that last as long as these. The largest has none: it is that of
   * this pass, and grows with its length.
   */
  public record Uncertainty(
      double meanM,
      double robustSigmaM,
      double rmsM,
      Optional<Bracket> medianAbs,
      Optional<Bracket> p95Abs,
      OptionalDouble correlationLowS,
      OptionalDouble correlationHighS) {
    public Uncertainty {
      // Results of earlier engines have none.
      medianAbs = medianAbs == null ? Optional.empty() : medianAbs;
      p95Abs = p95Abs == null ? Optional.empty() : p95Abs;
    }
  }
}

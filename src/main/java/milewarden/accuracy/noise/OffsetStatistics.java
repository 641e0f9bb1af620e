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
   * Half-widths of 95 % intervals in metres, and the interval of the correlation time, for errors
   * that last as long as these.
   */
  public record Uncertainty(
      double meanM,
      double robustSigmaM,
      double rmsM,
      OptionalDouble correlationLowS,
      OptionalDouble correlationHighS) {}
}

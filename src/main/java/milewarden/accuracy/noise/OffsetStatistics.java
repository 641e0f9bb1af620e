package milewarden.accuracy.noise;

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
    OptionalDouble correlationTimeS) {}

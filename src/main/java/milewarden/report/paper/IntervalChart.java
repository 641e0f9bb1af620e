package milewarden.report.paper;

import java.util.List;
import java.util.OptionalDouble;

/**
 * Errors with their intervals, one line each, on one scale. Percent of the reference throughout,
 * plus reads long; not rounded.
 *
 * @param caption source and n
 * @param limitsPercent sizes of the purposes' limits on the mean error, above 0
 */
public record IntervalChart(
    String heading, String caption, List<Limit> limitsPercent, List<Line> lines) {
  public IntervalChart {
    limitsPercent = List.copyOf(limitsPercent);
    lines = List.copyOf(lines);
  }

  /** A purpose's limit, with its two ends in words. */
  public record Limit(String purpose, double percent, String low, String high) {}

  /**
   * A mean; all is empty where nothing was tested.
   *
   * @param low and {@code high}: its 95 % interval
   * @param nextLow and {@code nextHigh}: the next run, 95 %
   * @param words the same in words
   */
  public record Line(
      String name,
      OptionalDouble mean,
      OptionalDouble low,
      OptionalDouble high,
      OptionalDouble nextLow,
      OptionalDouble nextHigh,
      String words) {}
}

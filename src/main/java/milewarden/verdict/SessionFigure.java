package milewarden.verdict;

import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import milewarden.course.Direction;
import milewarden.units.PercentRange;

/**
 * The one figure of an outing under one release: passes averaged within direction, directions
 * within condition, units within condition, then the conditions.
 *
 * @param start of the outing: sessions count in this order
 * @param meanPercent signed mean error; of a shown distance as read
 * @param range mean of the lows and mean of the highs; both equal the mean where nothing was shown
 * @param conditions the same for each condition of the outing
 * @param passes those that count
 * @param resultIds the evidence, ascending
 * @param withControl true where a control unit was carried
 */
public record SessionFigure(
    String session,
    Instant start,
    LocalDate date,
    double meanPercent,
    PercentRange range,
    List<OfCondition> conditions,
    List<String> units,
    int passes,
    List<Long> resultIds,
    boolean withControl) {
  public SessionFigure {
    conditions = List.copyOf(conditions);
    units = List.copyOf(units);
    resultIds = List.copyOf(resultIds);
  }

  /**
   * The figure of one condition.
   *
   * @param only the direction, where only one was run: the wrist's side is then in the mean
   */
  public record OfCondition(
      Condition condition, double meanPercent, PercentRange range, Optional<Direction> only) {
    /** True where only one direction was run. */
    public boolean oneDirection() {
      return only.isPresent();
    }
  }
}

package milewarden.verdict.comparing;

import java.util.Optional;
import milewarden.course.Direction;
import milewarden.verdict.Condition;
import milewarden.verdict.SessionFigure;

/**
 * What two sessions must have alike to be compared: the condition, and the directions in which it
 * was run. On a loop the wrist's side goes into the mean of a session of one direction only, by
 * half a percent where it is small, and out of the mean of both.
 *
 * @param only the one direction; empty where both were run
 */
record Like(Condition condition, Optional<Direction> only) {
  static Like of(SessionFigure.OfCondition cell) {
    return new Like(cell.condition(), cell.only());
  }
}

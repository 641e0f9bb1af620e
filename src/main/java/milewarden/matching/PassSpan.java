package milewarden.matching;

import java.util.List;
import milewarden.course.Bounds;
import milewarden.course.Direction;

/**
 * One pass of a recording: where it begins and ends.
 *
 * @param laps of a closed course, 1 for an open one
 * @param seams between its laps, in order of time; may be fewer than laps - 1 where the track never
 *     passed
 */
public record PassSpan(
    Direction direction, Bounds bounds, int laps, PassEnd from, PassEnd to, List<PassEnd> seams) {
  public PassSpan {
    seams = List.copyOf(seams);
  }
}

package milewarden.course;

import java.util.List;
import milewarden.geodesy.Position;

/**
 * A first centreline made from a recorded track and a measured length.
 *
 * @param course with an empty version: its file, once written and read, has one
 * @param traversals how many times the track went over the course; they were averaged
 * @param recordedM length of the recorded path per traversal
 * @param drawnM length of the drawn line on the ground
 * @param smoothingM half width of the smoothing that made them agree
 * @param toleranceM how far the simplified line may lie from the smoothed one
 */
public record CourseDraft(
    ReferenceCourse course,
    int traversals,
    double recordedM,
    double drawnM,
    double smoothingM,
    double toleranceM) {

  /**
   * Drafts a course from positions in order of recording, segments joined.
   *
   * @param recorded valid positions, at least one
   */
  public static DraftResult from(List<Position> recorded, DraftRequest request) {
    return new DraftResult.Failed(DraftResult.Reason.TOO_FEW_FIXES, recorded.size() + "");
  }
}

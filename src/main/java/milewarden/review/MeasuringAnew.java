package milewarden.review;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import milewarden.course.ReferenceCourse;
import milewarden.store.Id.RunId;
import milewarden.store.run.EvidenceRows.Placed;

/** Measures runs from their bytes and keeps nothing; given by the program, which knows how. */
@FunctionalInterface
public interface MeasuringAnew {
  /**
   * The passes that each run would have.
   *
   * @param instead a version of a course to be taken for the one in force, or a new course
   * @return one entry per run, empty where it could not be measured; results are numbered below 0
   */
  Map<RunId, List<Placed>> measure(List<RunId> runs, Optional<ReferenceCourse> instead);
}

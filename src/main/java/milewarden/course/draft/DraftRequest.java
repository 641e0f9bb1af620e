package milewarden.course.draft;

import java.time.LocalDate;
import java.util.Optional;
import milewarden.course.CourseSlug;
import milewarden.course.Method;
import milewarden.units.Length;

/**
 * What a tester says about the course that is to be drafted from a recorded track.
 *
 * @param measured what the wheel or tape read for one traversal, or one lap; above 0
 * @param standardUncertainty of it; 0.1 % of the length where empty
 * @param closed whether it is a loop; found out from the track where empty
 */
public record DraftRequest(
    CourseSlug slug,
    String name,
    Length measured,
    Optional<Length> standardUncertainty,
    Method method,
    Optional<LocalDate> measuredOn,
    String measuredBy,
    Optional<Boolean> closed) {
  public DraftRequest {
    if (!(measured.metres() > 0)) throw new IllegalArgumentException("length: " + measured);
  }

  /** With everything but name and length left to be found out: a wheel's reading. */
  public static DraftRequest of(CourseSlug slug, String name, Length measured) {
    return new DraftRequest(
        slug,
        name,
        measured,
        Optional.empty(),
        Method.WHEEL,
        Optional.empty(),
        "",
        Optional.empty());
  }
}

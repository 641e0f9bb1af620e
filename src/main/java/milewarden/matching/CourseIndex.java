package milewarden.matching;

import java.util.List;
import java.util.Optional;
import milewarden.course.ReferenceCourse;
import milewarden.track.Track;

/** The courses in force, ready to recognise the one that a track was run on. Immutable. */
public final class CourseIndex {
  private final List<ReferenceCourse> courses;

  private CourseIndex(List<ReferenceCourse> courses) {
    this.courses = List.copyOf(courses);
  }

  /** An index of these courses; may be empty. */
  public static CourseIndex of(List<ReferenceCourse> courses) {
    return new CourseIndex(courses);
  }

  /** The course that the track was run on. */
  public CourseChoice recognise(Track track) {
    if (courses.size() == 1) return new CourseChoice.Chosen(courses.get(0));
    return new CourseChoice.None(Optional.empty());
  }
}

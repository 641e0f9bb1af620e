package milewarden.matching;

import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import milewarden.course.CourseSlug;
import milewarden.course.ReferenceCourse;

/** Which course a track was run on, recognised from its positions alone. */
public sealed interface CourseChoice {
  <R> R fold(Function<Chosen, R> chosen, Function<Ambiguous, R> ambiguous, Function<None, R> none);

  /** One course fits, and clearly better than every other. */
  record Chosen(ReferenceCourse course) implements CourseChoice {
    @Override
    public <R> R fold(Function<Chosen, R> c, Function<Ambiguous, R> a, Function<None, R> n) {
      return c.apply(this);
    }
  }

  /** Two or more fit equally well, best first: the tester says which. */
  record Ambiguous(List<ReferenceCourse> courses) implements CourseChoice {
    public Ambiguous {
      courses = List.copyOf(courses);
      if (courses.size() < 2) throw new IllegalArgumentException("ambiguous means two or more");
    }

    @Override
    public <R> R fold(Function<Chosen, R> c, Function<Ambiguous, R> a, Function<None, R> n) {
      return a.apply(this);
    }
  }

  /** No course fits; the nearest one, where there are courses at all. */
  record None(Optional<Nearest> nearest) implements CourseChoice {
    @Override
    public <R> R fold(Function<Chosen, R> c, Function<Ambiguous, R> a, Function<None, R> n) {
      return n.apply(this);
    }
  }

  /**
   * The course that comes nearest.
   *
   * @param distanceM median distance of the fixes from its line, metres
   */
  record Nearest(CourseSlug slug, double distanceM) {
    /** The track lies on its line, and on too little of it to be known by. */
    public boolean isOnLine() {
      return distanceM <= Nearness.NEAR_M;
    }
  }
}

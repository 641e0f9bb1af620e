package milewarden.course;

import java.util.List;
import java.util.function.Function;

/** What reading a course file gave: a course and notices, or every reason why not. */
public sealed interface CourseRead {
  <R> R fold(Function<Usable, R> usable, Function<Refused, R> refused);

  /** A valid course version. */
  record Usable(ReferenceCourse course, List<CourseNotice> notices) implements CourseRead {
    public Usable {
      notices = List.copyOf(notices);
    }

    @Override
    public <R> R fold(Function<Usable, R> u, Function<Refused, R> r) {
      return u.apply(this);
    }
  }

  /** No course; at least one issue. */
  record Refused(List<CourseIssue> issues) implements CourseRead {
    public Refused {
      issues = List.copyOf(issues);
    }

    @Override
    public <R> R fold(Function<Usable, R> u, Function<Refused, R> r) {
      return r.apply(this);
    }
  }
}

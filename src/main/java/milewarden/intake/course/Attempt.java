package milewarden.intake.course;

import java.util.List;
import java.util.Optional;
import milewarden.course.LengthBudget;
import milewarden.course.ReferenceCourse;

/**
 * What a form would make of a course; nothing is written yet.
 *
 * @param next the version that it would become; empty where there are problems
 * @param budget of a measurement
 * @param problems in sentences, each with its place
 * @param notices of a version that can be used
 */
public record Attempt(
    Optional<ReferenceCourse> next,
    Optional<LengthBudget> budget,
    List<String> problems,
    List<String> notices) {
  public Attempt {
    problems = List.copyOf(problems);
    notices = List.copyOf(notices);
  }

  static Attempt refused(List<String> problems) {
    return new Attempt(Optional.empty(), Optional.empty(), problems, List.of());
  }
}

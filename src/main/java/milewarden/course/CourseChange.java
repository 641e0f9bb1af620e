package milewarden.course;

import java.time.LocalDate;

/**
 * Who made a version of a course, when, and why.
 *
 * @param author may be empty
 * @param reason what was changed and why; not blank
 */
public record CourseChange(String author, String reason, LocalDate on) {
  public CourseChange {
    if (reason.isBlank()) throw new IllegalArgumentException("a change without a reason");
  }
}

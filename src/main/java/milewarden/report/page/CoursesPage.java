package milewarden.report.page;

import java.util.List;
import milewarden.course.ReferenceCourse;
import milewarden.report.Digits;
import milewarden.report.Words;

/**
 * The reference courses, and the form for a first one.
 *
 * @param folder where course files are read from
 * @param problems files of the folder that could not be read, with place and reason
 * @param refusal what was wrong with the form; empty text where nothing
 */
public record CoursesPage(
    String sentence,
    String folder,
    List<Row> courses,
    List<Problem> problems,
    Draft draft,
    String refusal,
    String done,
    List<String> cautions) {
  public CoursesPage {
    courses = List.copyOf(courses);
    problems = List.copyOf(problems);
    cautions = List.copyOf(cautions);
  }

  /** A course on one line. */
  public record Row(
      String name,
      String link,
      String length,
      String shape,
      String method,
      String measured,
      String sky) {}

  /** A file that was refused; the last good version stays in force. */
  public record Problem(String file, String place, String sentence) {}

  /** What stands in the form. */
  public record Draft(
      String name,
      String length,
      String uncertainty,
      String tolerance,
      String centre,
      String bearing,
      String lane,
      String start,
      List<IntakePage.Option> methods) {
    public Draft {
      methods = List.copyOf(methods);
    }
  }

  public static String sentence(int courses, Digits digits) {
    return courses == 0
        ? "There is no reference course yet."
        : digits.counted(courses, "reference course")
            + (courses == 1 ? " is" : " are")
            + " in force.";
  }

  /** A course on one line. */
  public static Row row(ReferenceCourse c, Digits digits) {
    return new Row(
        c.name(),
        Links.course(c.slug().text()),
        digits.groundWithin(c.referenceM(), CoursePage.COVERAGE * c.standardUncertaintyM()),
        c.closed() ? "loop" : "start to finish",
        Words.of(c.method()),
        c.measuredOn().map(digits::date).orElse(Digits.UNKNOWN),
        Words.of(c.skyView()));
  }
}

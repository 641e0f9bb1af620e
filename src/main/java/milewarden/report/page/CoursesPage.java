package milewarden.report.page;

import java.util.List;

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
      String name, String link, String length, String shape, String method, String measured, String sky) {}

  /** A file that was refused; the last good version stays in force. */
  public record Problem(String file, String place, String sentence) {}

  /** What stands in the form. */
  public record Draft(
      String name, String length, String uncertainty, List<IntakePage.Option> methods) {
    public Draft {
      methods = List.copyOf(methods);
    }
  }
}

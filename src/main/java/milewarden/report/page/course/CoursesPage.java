package milewarden.report.page.course;

import java.time.LocalDate;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import milewarden.course.ReferenceCourse;
import milewarden.report.Digits;
import milewarden.report.Words;
import milewarden.report.page.Links;
import milewarden.report.page.Option;

/**
 * The reference courses, and the form for a first one.
 *
 * @param folder where course files are read from
 * @param order which courses are shown, and in which order
 * @param left how many the order leaves out; empty text where none
 * @param problems files of the folder that could not be read, with place and reason
 * @param refusal what was wrong with the form; empty text where nothing
 */
public record CoursesPage(
    String sentence,
    String folder,
    Order order,
    String left,
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

  /**
   * What stands in the page's address.
   *
   * @param sort {@code name}, {@code length} (longest first) or {@code measured} (longest ago
   *     first, and before them those of an unknown day)
   * @param find a part of the name, in any case; empty for all
   */
  public record Order(String sort, String find) {
    private static final List<Option> SORTS =
        List.of(
            new Option("name", "by name"),
            new Option("length", "longest first"),
            new Option("measured", "measured longest ago first"));

    public Order {
      String wanted = sort;
      if (SORTS.stream().noneMatch(s -> s.code().equals(wanted))) sort = "name";
      find = find.strip();
    }

    public List<Option> sorts() {
      return SORTS;
    }

    public List<ReferenceCourse> of(List<ReferenceCourse> courses) {
      String wanted = find.toLowerCase(Locale.ROOT);
      return courses.stream()
          .filter(c -> c.name().toLowerCase(Locale.ROOT).contains(wanted))
          .sorted(comparator())
          .toList();
    }

    private Comparator<ReferenceCourse> comparator() {
      Comparator<ReferenceCourse> byName =
          Comparator.comparing(c -> c.name().toLowerCase(Locale.ROOT));
      return switch (sort) {
        case "length" -> Comparator.comparingDouble(ReferenceCourse::referenceM).reversed();
        case "measured" ->
            Comparator.<ReferenceCourse, LocalDate>comparing(
                    c -> c.measuredOn().orElse(LocalDate.MIN))
                .thenComparing(byName);
        default -> byName;
      };
    }
  }

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
      List<Option> methods) {
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

package milewarden.report.page;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import milewarden.report.Digits;
import milewarden.report.JudgedWords;
import milewarden.report.Status;
import milewarden.units.PercentRange;
import milewarden.verdict.Comparison.Because;
import milewarden.verdict.Comparison.Outcome;
import milewarden.verdict.DueItem;
import milewarden.verdict.ReleaseJudgement;

/**
 * The invented campaign, release by release: what was put in, and what was found of it.
 *
 * @param sentence whether all came out as it should
 * @param caption how to read the table
 */
public record DemoPage(String sentence, String caption, List<Row> rows) {
  public DemoPage {
    rows = List.copyOf(rows);
  }

  /**
   * A release in words.
   *
   * @param injected what was put in
   * @param errors the error put in on each course
   * @param mean the mean error that was found, with its interval
   * @param change what was found of the change, with its interval
   */
  public record Row(
      String model,
      String firmware,
      String injected,
      List<String> errors,
      String expected,
      Status found,
      String mean,
      String change,
      String expectedDue,
      String due,
      Status right) {
    public Row {
      errors = List.copyOf(errors);
    }
  }

  /**
   * A release in numbers.
   *
   * @param errors the error put in on each course, percent, in their order
   * @param expected empty where nothing is compared: the first release, or one that is not tested
   * @param expectedDue empty where nothing should be due
   * @param found the last comparison with the release that it was held against
   * @param due what is open on it
   * @param judged the judge's figures of it today
   */
  public record Release(
      String model,
      String firmware,
      String injected,
      List<CourseError> errors,
      int sessions,
      Optional<Outcome> expected,
      Optional<DueItem.Kind> expectedDue,
      Optional<Found> found,
      List<DueItem.Kind> due,
      Optional<ReleaseJudgement> judged) {
    public Release {
      errors = List.copyOf(errors);
      due = List.copyOf(due);
    }

    /** True where outcome and due items are the expected ones, and no others. */
    public boolean right() {
      boolean dueRight =
          expectedDue.isEmpty()
              ? due.isEmpty()
              : !due.isEmpty() && due.stream().allMatch(expectedDue.get()::equals);
      return dueRight && found.map(Found::outcome).equals(expected);
    }
  }

  /** The error put in on a course, percent of the reference. */
  public record CourseError(String course, double percent) {}

  /** What the comparison said. */
  public record Found(
      Outcome outcome,
      Because because,
      String against,
      int sessions,
      double percent,
      PercentRange interval) {}

  public static DemoPage of(List<Release> releases, Digits digits) {
    List<Row> rows = releases.stream().map(r -> row(r, digits)).toList();
    long wrong = releases.stream().filter(r -> !r.right()).count();
    String sentence =
        wrong == 0
            ? "All " + releases.size() + " releases came out as they were made."
            : wrong + " of " + releases.size() + " releases did not come out as they were made.";
    return new DemoPage(
        sentence,
        "Everything here is invented: makers, models, people, places. Errors are in percent of the"
            + " measured length, plus reads long; the ones put in are without noise. A change is"
            + " in points of percent against the release named, with its 95 % interval.",
        rows);
  }

  private static Row row(Release r, Digits digits) {
    return new Row(
        r.model(),
        r.firmware(),
        r.injected(),
        r.errors().stream().map(e -> e.course() + " " + digits.percent(e.percent())).toList(),
        r.expected().map(o -> JudgedWords.of(o).word()).orElse(nothing(r)),
        r.found().map(f -> JudgedWords.of(f.outcome())).orElse(Status.unknown(nothing(r))),
        r.judged()
            .filter(ReleaseJudgement::tested)
            .map(j -> "mean " + ReleaseWords.mean(j, digits))
            .orElse(""),
        r.found().map(f -> change(f, digits)).orElse(""),
        r.expectedDue().map(DemoPage::due).orElse("nothing"),
        r.due().isEmpty()
            ? "nothing"
            : String.join(", ", r.due().stream().distinct().map(DemoPage::due).toList()),
        r.right() ? Status.holds("as expected") : Status.broken("not as expected"));
  }

  private static String nothing(Release r) {
    return r.sessions() == 0 ? Digits.NOT_TESTED : "baseline";
  }

  private static String due(DueItem.Kind kind) {
    return JudgedWords.of(kind).toLowerCase(Locale.ROOT);
  }

  private static String change(Found f, Digits digits) {
    return digits.points(f.percent())
        + ", "
        + digits.pointsInterval(f.interval().low(), f.interval().high())
        + " against "
        + f.against()
        + ", "
        + digits.sessions(f.sessions())
        + ": "
        + JudgedWords.of(f.because());
  }
}

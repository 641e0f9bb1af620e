package milewarden.report.page.course;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import milewarden.course.LengthBudget;
import milewarden.course.LineCheck;
import milewarden.course.ReferenceCourse;
import milewarden.report.Digits;
import milewarden.report.Words;
import milewarden.report.page.Fact;
import milewarden.report.page.Links;
import milewarden.verdict.ground.CourseWatch;

/** Can I trust the reference? */
public record CoursePage(
    String name,
    String sentence,
    String figure,
    String figureWords,
    PlanChart plan,
    List<Fact> facts,
    List<Fact> marks,
    List<BudgetTable> budget,
    StretchRows check,
    WatchLines watch,
    List<VersionRows.Row> versions,
    String uses,
    String measureLink,
    String lineLink,
    String kept,
    String notes,
    List<String> warnings,
    List<String> cautions) {
  public CoursePage {
    facts = List.copyOf(facts);
    marks = List.copyOf(marks);
    budget = List.copyOf(budget);
    versions = List.copyOf(versions);
    warnings = List.copyOf(warnings);
    cautions = List.copyOf(cautions);
  }

  // A year between measurements: common practice, no source.
  private static final int YEARS = 1;

  // k about 2 for 95 % (JCGM 100:2008, 6.3.3).
  static final double COVERAGE = 2;

  /**
   * What stands on the page beside the course itself.
   *
   * @param budget of its measurement, where its file holds the readings
   * @param watch what everything measured on it says of the course itself
   * @param asOf when watch and uses were worked out, where they don't tell the newest yet
   * @param uses how many runs and sessions were measured by it, in a sentence
   * @param kept what was just written; empty text where nothing
   */
  public record Beside(
      Optional<LengthBudget> budget,
      CourseWatch watch,
      Optional<Instant> asOf,
      List<VersionRows.Row> versions,
      String uses,
      String kept,
      List<String> warnings) {
    public Beside {
      versions = List.copyOf(versions);
      warnings = List.copyOf(warnings);
    }
  }

  /** The page of a course. */
  public static CoursePage of(ReferenceCourse c, Beside beside, Digits digits) {
    double u = COVERAGE * c.standardUncertaintyM();
    double percent = 100 * u / c.referenceM();
    return new CoursePage(
        c.name(),
        sentence(c, u),
        digits.groundWithin(c.referenceM(), u),
        u > 0
            ? "reference length with its expanded uncertainty, "
                + digits.limit(Math.round(1000 * percent) / 1000.0)
            : "reference length; its uncertainty is not stated",
        PlanChart.of(c, digits),
        facts(c, digits),
        marks(c, digits),
        beside.budget().stream().map(b -> BudgetTable.of(b, digits)).toList(),
        StretchRows.of(LineCheck.of(c), digits),
        WatchLines.of(beside.watch(), beside.asOf(), digits),
        beside.versions(),
        beside.uses(),
        Links.course(c.slug().text()) + "/measure",
        Links.course(c.slug().text()) + "/line",
        beside.kept(),
        c.notes(),
        beside.warnings(),
        Words.CAUTIONS);
  }

  private static String sentence(ReferenceCourse c, double u) {
    String shape =
        c.closed() ? "A closed course, run in laps" : "An open course, run from start to finish";
    return u > 0
        ? shape + ", measured by " + Words.of(c.method()) + "."
        : shape + "; how well its length is known is not stated.";
  }

  private static List<Fact> facts(ReferenceCourse c, Digits digits) {
    List<Fact> lines = new ArrayList<>();
    lines.add(new Fact("measured length", digits.ground(c.measuredLengthM()), "along the slope"));
    if (c.safetyFactor().isPresent())
      lines.add(
          new Fact(
              "safety factor",
              digits.number(c.safetyFactor().getAsDouble(), 3),
              "the certified figure carries it"));
    lines.add(
        new Fact(
            "reference of a track",
            digits.ground(c.horizontalM()),
            c.heightProfile().isEmpty()
                ? "without a height profile the same as of what is shown and recorded"
                : "without the slope, which no track on a map can see, by the height profile; what"
                    + " is shown and recorded is held against "
                    + digits.ground(c.referenceM())));
    lines.add(new Fact("standard uncertainty", digits.ground(c.standardUncertaintyM(), 3), ""));
    lines.add(
        new Fact(
            "measured on",
            c.measuredOn().map(digits::date).orElse(Digits.UNKNOWN),
            c.measuredBy()));
    c.measuredOn()
        .ifPresent(
            day ->
                lines.add(
                    new Fact(
                        "measure again by",
                        digits.date(day.plusYears(YEARS)),
                        "or after works on it, or when all devices shift there")));
    lines.add(new Fact("method", Words.of(c.method()), ""));
    lines.add(new Fact("sky", Words.of(c.skyView()), c.surface()));
    return lines;
  }

  private static List<Fact> marks(ReferenceCourse c, Digits digits) {
    return c.marks().stream()
        .map(
            m ->
                new Fact(
                    m.name().isBlank()
                        ? m.role().name().toLowerCase(java.util.Locale.ROOT)
                        : m.name(),
                    digits.ground(m.chainageM()),
                    m.role().name().toLowerCase(java.util.Locale.ROOT)))
        .toList();
  }
}

package milewarden.report.page;

import java.util.ArrayList;
import java.util.List;
import milewarden.course.ReferenceCourse;
import milewarden.report.Digits;
import milewarden.report.Words;

/** Can I trust the reference? */
public record CoursePage(
    String name,
    String sentence,
    String figure,
    String figureWords,
    PlanChart plan,
    List<RunPage.Line> facts,
    List<RunPage.Line> marks,
    List<Version> versions,
    String notes,
    List<String> warnings,
    List<String> cautions) {
  public CoursePage {
    facts = List.copyOf(facts);
    marks = List.copyOf(marks);
    versions = List.copyOf(versions);
    warnings = List.copyOf(warnings);
    cautions = List.copyOf(cautions);
  }

  // k about 2 for 95 % (JCGM 100:2008, 6.3.3).
  static final double COVERAGE = 2;

  /** A version of the course's file. */
  public record Version(String hash, String since, String length, boolean inForce) {}

  /** The page of a course. */
  public static CoursePage of(
      ReferenceCourse c, List<Version> versions, List<String> warnings, Digits digits) {
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
        versions,
        c.notes(),
        warnings,
        Words.CAUTIONS);
  }

  private static String sentence(ReferenceCourse c, double u) {
    String shape =
        c.closed() ? "A closed course, run in laps" : "An open course, run from start to finish";
    return u > 0
        ? shape + ", measured by " + Words.of(c.method()) + "."
        : shape + "; how well its length is known is not stated.";
  }

  private static List<RunPage.Line> facts(ReferenceCourse c, Digits digits) {
    List<RunPage.Line> lines = new ArrayList<>();
    lines.add(
        new RunPage.Line("measured length", digits.ground(c.measuredLengthM()), "along the slope"));
    if (c.safetyFactor().isPresent())
      lines.add(
          new RunPage.Line(
              "safety factor",
              digits.number(c.safetyFactor().getAsDouble(), 3),
              "the certified figure carries it"));
    lines.add(
        new RunPage.Line(
            "standard uncertainty", digits.number(c.standardUncertaintyM(), 3) + " m", ""));
    lines.add(
        new RunPage.Line(
            "measured on",
            c.measuredOn().map(digits::date).orElse(Digits.UNKNOWN),
            c.measuredBy()));
    lines.add(new RunPage.Line("method", Words.of(c.method()), ""));
    lines.add(new RunPage.Line("sky", Words.of(c.skyView()), c.surface()));
    return lines;
  }

  private static List<RunPage.Line> marks(ReferenceCourse c, Digits digits) {
    return c.marks().stream()
        .map(
            m ->
                new RunPage.Line(
                    m.name().isBlank()
                        ? m.role().name().toLowerCase(java.util.Locale.ROOT)
                        : m.name(),
                    digits.ground(m.chainageM()),
                    m.role().name().toLowerCase(java.util.Locale.ROOT)))
        .toList();
  }
}

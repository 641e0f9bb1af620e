package milewarden.report.page.course;

import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import milewarden.report.Digits;
import milewarden.verdict.CourseBias;
import milewarden.verdict.Findings;

/** What control units say of courses whose stated length they doubt. */
public final class CourseDoubts {
  private CourseDoubts() {}

  /** One sentence per course that is doubted; each by the judgement that knows most sessions. */
  public static List<String> of(Collection<? extends Findings> judged, Digits digits) {
    Map<String, CourseBias> fullest = new TreeMap<>();
    for (Findings j : judged)
      for (CourseBias b : j.courses())
        fullest.merge(
            b.course() + "\n" + b.control(), b, (x, y) -> y.sessions() > x.sessions() ? y : x);
    return fullest.values().stream()
        .filter(b -> !b.consistent())
        .map(b -> sentence(b, digits))
        .toList();
  }

  private static String sentence(CourseBias b, Digits digits) {
    return "The control "
        + b.control()
        + " reads "
        + digits.percentWithin(b.biasPercent(), b.expandedUncertaintyPercent())
        + " on "
        + b.course()
        + " against its mean over "
        + b.courses()
        + " courses ("
        + digits.sessions(b.sessions())
        + " there): more than the stated uncertainty of "
        + digits.limit(b.statedStandardUncertaintyPercent())
        + " lets expect. Measure this course again.";
  }
}

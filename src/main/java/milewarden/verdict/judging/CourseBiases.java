package milewarden.verdict.judging;

import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import milewarden.statistics.Sample;
import milewarden.statistics.UncertaintySum;
import milewarden.verdict.Condition;
import milewarden.verdict.CourseBias;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.Policy;
import milewarden.verdict.Source;
import milewarden.verdict.figures.Evidence;

/**
 * A control unit that is carried over all courses compares their stated lengths, as a travelling
 * standard compares laboratories: each course's mean against the weighted mean of all, with the
 * uncertainty of that difference.
 *
 * @see "Cox (2002), The evaluation of key comparison data, Metrologia 39, 589-595: procedure A"
 */
final class CourseBiases {
  private static final double CHANCE = 0.05;

  private CourseBiases() {}

  /** One per course of each control that was carried over two or more of one kind. */
  static List<CourseBias> of(Collection<PassEvidence> controls, Policy policy) {
    if (controls.isEmpty()) return List.of();
    Source source =
        Source.choose(List.of(controls), policy.materialChangePercent(), policy).source();
    // The same control, carried alike under the same sky: what differs is then the course.
    Map<String, List<PassEvidence>> alike = new TreeMap<>();
    for (PassEvidence p : controls) {
      Condition c = p.condition();
      String key =
          String.join(
              "\n",
              p.unit(),
              p.firmware(),
              c.site().name(),
              c.carriage().name(),
              c.gait().name(),
              c.settings());
      alike.computeIfAbsent(key, k -> new ArrayList<>()).add(p);
    }
    List<CourseBias> found = new ArrayList<>();
    for (List<PassEvidence> of : alike.values())
      found.addAll(compared(Evidence.of(source, of), policy));
    return found;
  }

  private record Course(Condition condition, Sample sessions, double reference) {
    /** 1 / u^2 of its mean, with the spread of sessions that all courses share. */
    double weight(double variance) {
      return 1 / (reference * reference + variance / sessions.n());
    }
  }

  private static List<CourseBias> compared(Evidence e, Policy policy) {
    List<Course> courses = new ArrayList<>();
    double squares = 0;
    double df = 0;
    for (Condition c : e.conditions()) {
      Evidence of = e.in(List.of(c));
      Sample s = Sample.of(of.means());
      if (s.n() < policy.insufficientSessions()) continue;
      courses.add(new Course(c, s, Math.sqrt(of.referenceVariance())));
      squares += s.sumOfSquares();
      df += s.n() - 1;
    }
    if (courses.size() < 2) return List.of();
    double variance = squares / df;
    double weights = 0;
    double mean = 0;
    for (Course c : courses) {
      double w = c.weight(variance);
      if (!Double.isFinite(w)) return List.of();
      weights += w;
      mean += w * c.sessions().mean();
    }
    mean /= weights;
    List<CourseBias> found = new ArrayList<>();
    for (Course c : courses) found.add(bias(e, c, courses.size(), variance, df, mean, weights));
    return found;
  }

  private static CourseBias bias(
      Evidence e, Course c, int n, double variance, double df, double mean, double weights) {
    // u^2(d) = u^2(x) - u^2(mean): the course is itself part of the mean (Cox's equation 5).
    double left = 1 - c.weight(variance) / weights;
    UncertaintySum u =
        UncertaintySum.NONE
            .plus(left * variance / c.sessions().n(), df)
            .plus(left * c.reference() * c.reference(), Double.POSITIVE_INFINITY);
    return new CourseBias(
        e.passes().get(0).unit(),
        c.condition().course(),
        c.condition().courseVersion(),
        c.sessions().n(),
        n,
        c.sessions().mean() - mean,
        u.expanded(1 - CHANCE / n),
        c.reference());
  }
}

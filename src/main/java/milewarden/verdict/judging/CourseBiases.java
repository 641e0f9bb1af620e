package milewarden.verdict.judging;

import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
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
 * standard compares laboratories: each course's mean against the weighted mean of those that agree,
 * with the uncertainty of that difference.
 *
 * @see "Cox (2002), The evaluation of key comparison data, Metrologia 39, 589-595: procedure A"
 * @see "Cox (2007), Metrologia 44, 187-200: the largest consistent subset"
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
    for (Course c : courses) if (!Double.isFinite(c.weight(variance))) return List.of();
    String control = e.passes().get(0).unit();
    List<Course> agreeing = new ArrayList<>(courses);
    while (true) {
      List<CourseBias> found = new ArrayList<>();
      for (Course c : courses) found.add(bias(control, c, courses.size(), agreeing, variance, df));
      // Of two that disagree neither is known to be the one.
      Optional<Course> worst =
          agreeing.size() <= 2 ? Optional.empty() : worst(courses, found, agreeing);
      if (worst.isEmpty()) return found;
      agreeing.remove(worst.get());
    }
  }

  /** The one farthest out of those that make up the mean; empty where all of them agree. */
  private static Optional<Course> worst(
      List<Course> courses, List<CourseBias> found, List<Course> agreeing) {
    Optional<Course> worst = Optional.empty();
    double farthest = 1;
    for (int i = 0; i < courses.size(); i++) {
      CourseBias b = found.get(i);
      double out = Math.abs(b.biasPercent()) / b.expandedUncertaintyPercent();
      if (agreeing.contains(courses.get(i)) && out > farthest) {
        farthest = out;
        worst = Optional.of(courses.get(i));
      }
    }
    return worst;
  }

  private static CourseBias bias(
      String control, Course c, int n, List<Course> agreeing, double variance, double df) {
    double weights = 0;
    double mean = 0;
    for (Course other : agreeing) {
      weights += other.weight(variance);
      mean += other.weight(variance) * other.sessions().mean();
    }
    mean /= weights;
    // A course that is part of the mean: u^2(d) = u^2(x) - u^2(mean) (Cox's equation 5); else plus.
    double share = c.weight(variance) / weights;
    double left = agreeing.contains(c) ? 1 - share : 1 + share;
    UncertaintySum u =
        UncertaintySum.NONE
            .plus(left * variance / c.sessions().n(), df)
            .plus(left * c.reference() * c.reference(), Double.POSITIVE_INFINITY);
    return new CourseBias(
        control,
        c.condition().course(),
        c.condition().courseVersion(),
        c.sessions().n(),
        n,
        c.sessions().mean() - mean,
        u.expanded(1 - CHANCE / n),
        c.reference());
  }
}

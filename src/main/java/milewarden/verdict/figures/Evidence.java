package milewarden.verdict.figures;

import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import milewarden.verdict.Condition;
import milewarden.verdict.PassError;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.SessionFigure;
import milewarden.verdict.Source;

/**
 * Passes of one release, judged by one source and gathered into sessions.
 *
 * @param passes that count and carry the source, in order of their sessions; all passes of a
 *     session bear its one start
 * @param sessions in order of start
 */
public record Evidence(Source source, List<PassEvidence> passes, List<SessionFigure> sessions) {
  /** Conditions in an order of their own, so that sums do not depend on the order of arrival. */
  public static final Comparator<Condition> BY_CONDITION =
      Comparator.comparing(Condition::course)
          .thenComparing(Condition::courseVersion)
          .thenComparing(Condition::site)
          .thenComparing(Condition::carriage)
          .thenComparing(Condition::gait)
          .thenComparing(Condition::settings);

  private static final Comparator<PassEvidence> ORDER =
      Comparator.comparing(PassEvidence::sessionStart)
          .thenComparing(PassEvidence::session)
          .thenComparing(PassEvidence::condition, BY_CONDITION)
          .thenComparing(PassEvidence::unit)
          .thenComparing(PassEvidence::direction)
          .thenComparing(PassEvidence::resultId);

  /** Leaves out the excluded passes and those that lack the source. */
  public static Evidence of(Source source, Collection<PassEvidence> passes) {
    List<PassEvidence> counted = new ArrayList<>(passes.size());
    for (PassEvidence p : passes)
      if (p.exclusion().isEmpty() && PassError.has(p, source)) counted.add(p);
    counted.sort(ORDER);
    return ofOrdered(source, counted);
  }

  private static Evidence ofOrdered(Source source, List<PassEvidence> counted) {
    return new Evidence(source, List.copyOf(counted), Gathering.sessions(source, counted));
  }

  /** The part of it that the test takes. */
  public Evidence where(Predicate<PassEvidence> test) {
    List<PassEvidence> of = new ArrayList<>(passes.size());
    for (PassEvidence p : passes) if (test.test(p)) of.add(p);
    return of.size() == passes.size() ? this : ofOrdered(source, of);
  }

  public Evidence in(Collection<Condition> conditions) {
    Set<Condition> wanted = Set.copyOf(conditions);
    if (wanted.containsAll(conditions())) return this;
    return where(p -> wanted.contains(p.condition()));
  }

  /** These of its sessions, whole: their figures stay as they are. */
  public Evidence ofSessions(List<SessionFigure> kept) {
    if (kept.size() == sessions.size()) return this;
    Set<String> keys = kept.stream().map(SessionFigure::session).collect(Collectors.toSet());
    List<PassEvidence> of = passes.stream().filter(p -> keys.contains(p.session())).toList();
    return new Evidence(source, of, List.copyOf(kept));
  }

  /**
   * The passes of one of its sessions, which lie together.
   *
   * @param from how many passes the sessions before it have
   */
  List<PassEvidence> ofSession(int from, SessionFigure session) {
    int to = from;
    while (to < passes.size() && passes.get(to).session().equals(session.session())) to++;
    return passes.subList(from, to);
  }

  /** In order of the first session that holds it. */
  public List<Condition> conditions() {
    // A few, and mostly the very objects: to look at each costs less than to hash them.
    List<Condition> all = new ArrayList<>();
    for (SessionFigure s : sessions)
      for (SessionFigure.OfCondition c : s.conditions())
        if (!all.contains(c.condition())) all.add(c.condition());
    return List.copyOf(all);
  }

  public Set<String> units() {
    Set<String> units = new TreeSet<>();
    String before = "";
    for (PassEvidence p : passes)
      if (!p.unit().equals(before)) {
        before = p.unit();
        units.add(before);
      }
    return units;
  }

  public List<Long> resultIds() {
    return passes.stream().map(PassEvidence::resultId).sorted().toList();
  }

  public boolean isEmpty() {
    return sessions.isEmpty();
  }

  public double[] means() {
    return sessions.stream().mapToDouble(SessionFigure::meanPercent).toArray();
  }

  /** One column per condition: the share that it has of each session. */
  public double[][] shares(List<Condition> conditions) {
    double[][] columns = new double[conditions.size()][sessions.size()];
    for (int i = 0; i < sessions.size(); i++) {
      List<SessionFigure.OfCondition> cells = sessions.get(i).conditions();
      for (SessionFigure.OfCondition cell : cells)
        columns[conditions.indexOf(cell.condition())][i] = 1.0 / cells.size();
    }
    return columns;
  }

  /**
   * u_ref squared of the mean with equal weight per condition, in squared percent: common to all
   * runs on a course, independent between courses.
   */
  public double referenceVariance() {
    Map<String, Double> ofCourse = new HashMap<>();
    Condition before = null;
    double most = Double.NaN;
    for (PassEvidence p : passes) {
      // Passes of one condition lie together, and many have one uncertainty.
      double u = p.referenceStandardUncertaintyPercent();
      if (p.condition() == before && u == most) continue;
      before = p.condition();
      most = u;
      ofCourse.merge(before.course(), u, Math::max);
    }
    return referenceVariance(ofCourse, conditions());
  }

  /**
   * The same.
   *
   * @param ofCourse the largest uncertainty of a pass on each course
   */
  static double referenceVariance(Map<String, Double> ofCourse, List<Condition> conditions) {
    Map<String, Double> weights = new LinkedHashMap<>();
    for (Condition c : conditions) weights.merge(c.course(), 1.0 / conditions.size(), Double::sum);
    double sum = 0;
    for (Map.Entry<String, Double> w : weights.entrySet()) {
      double u = w.getValue() * ofCourse.getOrDefault(w.getKey(), 0.0);
      sum += u * u;
    }
    return sum;
  }

  /** The coarsest display step in percent of its pass; 0 where nothing was shown. */
  public double stepPercent() {
    double coarsest = 0;
    for (PassEvidence p : passes)
      if (p.displayStepM() > 0)
        coarsest = Math.max(coarsest, 100 * p.displayStepM() / p.referenceM());
    return coarsest;
  }
}
